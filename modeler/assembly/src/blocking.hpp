#pragma once

#include "stage.hpp"
#include "tools.hpp"

#include <optional>
#include <vector>

namespace ribbay::detail {

/// What stands in the way of what, asked while units come off one by one. Fewer units block less:
/// each question keeps its first obstacle and looks no further while that one is there, so each
/// pair is measured at most once.
class Blocking {
 public:
  explicit Blocking(const Stage& stage);

  const std::vector<Vec3>& ways(std::size_t unit) const { return movers_[unit].ways; }
  /// How far the unit goes along its way until it is clear of the stage, mm.
  double travel(std::size_t unit, Vec3 way) const;
  /// The first way, by its place in ways(), along which the unit comes off.
  std::optional<std::size_t> free_way(std::size_t unit);
  /// Of the ways on which it comes off, that on which it slides least.
  struct Way {
    std::size_t index = 0;
    double slide = 0.0;  ///< mm
    double run = 0.0;    ///< on slides of its own, mm: made for it, however long
    bool past = true;    ///< it comes out past all that stood there before
  };
  Way shortest_way(std::size_t unit);
  /// The same, as it was found while fewer things beside it had come off.
  Way known_way(std::size_t unit);
  /// Of what no single way brings off: a short one, and one across it from there on. The shortest.
  struct Bend {
    Vec3 way;
    double slide = 0.0;  ///< mm
    Vec3 then;
  };
  std::optional<Bend> bend(std::size_t unit);
  /// The first way in which a tool reaches an item that is a bolt or screw.
  Reach free_tool(std::size_t item);

  /// True when the bench, or something that is there, bears it from below.
  bool rests(std::size_t unit) const;
  /// True when the van or another module does.
  bool rests_on_others(std::size_t unit) const;

  /// True when it still sits in slides that it comes out by.
  bool on_slides(std::size_t unit) const;

  void take_off(std::size_t unit);
  bool stands(std::size_t unit) const { return stands_[unit]; }
  /// True while all units that it holds are there.
  bool there(const Item& item) const;
  /// Part id of what stops the unit on each of its ways, or "what stands there already"; free ways
  /// left out.
  std::vector<std::string> stoppers(std::size_t unit) const;
  std::string stopper_of_tool(std::size_t item) const;

 private:
  /// Obstacles count up: units, items, then what stands already. A cursor stands at the first that
  /// blocks.
  struct Mover {
    std::vector<Vec3> ways;
    std::vector<std::size_t> cursors;
  };
  /// Rooms are made when the ones before are blocked: most bolts are reached straight.
  struct Tools {
    struct Way {
      Reach reach = Reach::straight;
      std::vector<ToolRoom> rooms{};
      std::vector<std::size_t> cursors{};
    };
    std::vector<Way> ways;
    struct Hands {
      std::vector<HandWay> ways{};
      std::vector<ToolRoom> rooms{};  ///< of the first ways
      std::vector<std::size_t> cursors{};
    };
    std::optional<Hands> hands;
  };
  std::size_t obstacles() const { return stage_.units.size() + stage_.items.size() + others_; }
  bool present(std::size_t obstacle) const;
  /// A dowel or half of a slide, still in the thing and in another one, that lies across a way: it
  /// comes off along its dowels only, and along its slides in the sense in which they open.
  std::optional<std::size_t> guide_across(std::size_t unit, Vec3 way) const;
  /// The slides between two things that are both there.
  template <class Each>
  void each_sliding(std::size_t unit, Each each) const;
  bool free(std::size_t unit, std::size_t way);
  /// Pieces of the unit, and pieces of what stands by it.
  struct Pair {
    const ConvexPiece* own;
    const ConvexPiece* other;
  };
  /// Those whose boxes meet, or nearly, when its own are carried over `travel` along `way`.
  std::vector<Pair> pairs_near(std::size_t unit, Vec3 way, double travel, double gap) const;
  static double past(const Pair& pair, Vec3 way);
  /// How far the unit goes along `way` until nothing stops it any more on the other one, mm.
  double let_go(std::size_t unit, Vec3 stopped, Vec3 way) const;
  Way measure_ways(std::size_t unit);
  bool stops(std::size_t unit, Vec3 way, double far, std::size_t obstacle) const;
  /// True when it goes so far along `way`, from where it is by `shift`.
  bool goes(std::size_t unit, Vec3 shift, Vec3 way, double far) const;
  /// True when it comes out of the modules that it is fixed to as well, past those that stand.
  bool comes_out(std::size_t unit, Vec3 way) const;
  bool hides(std::size_t item, const ToolRoom& room, std::size_t obstacle) const;
  /// True when nothing that is there hides what the cursor stands for.
  template <class Hides>
  bool passes(std::size_t& cursor, Hides hides) const;
  bool keeps_hand_out(std::size_t item, const HandWay& way, const ToolRoom& room,
                      std::size_t obstacle) const;
  bool hand_comes(std::size_t item);
  std::string name(std::size_t obstacle) const;
  /// Calls `test` for each solid of an obstacle until it says yes.
  template <class Test>
  bool any_solid(std::size_t obstacle, Test test) const;
  bool borne_by(std::size_t unit, std::size_t obstacle) const;
  bool of_unit(std::size_t unit, std::size_t obstacle) const;
  std::vector<std::size_t> solids_of(std::size_t unit) const;

  const Stage& stage_;
  std::size_t others_ = 0;  ///< 1 when the van and other modules are in the way
  std::vector<bool> stands_;
  std::vector<Mover> movers_;
  std::vector<Tools> tools_;
  std::vector<std::optional<Way>> known_;
};

}  // namespace ribbay::detail
