#pragma once

#include "layout/screw_hold.hpp"
#include "workshop.hpp"

#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

/// Boards that are screwed together: a screw bores the boards it goes through before they are made.
namespace ribbay::detail {

/// A wood screw in module axes.
struct Screw {
  std::string name;
  std::string field;  ///< the module's field that names the bolt, for its size and for messages
  Vec3 at;            ///< on the surface it is driven through
  Vec3 direction;     ///< unit, parallel to an axis of the boards
  std::string
      from;  ///< the board it goes through, its head sunk flush; or hardware that its head lies on
  std::string into;            ///< the board that its thread holds in
  const Bolt* bolt = nullptr;  ///< by default the one that `field` names
};

/// Collects the boards of one module, so that screws can bore them.
class Joinery {
 public:
  Joinery(const ModuleRequest& request, Workshop& shop) : request_{request}, shop_{shop} {}

  /// The reference stays valid. A screw into a shaped board enters it through a face that its
  /// bounds touch.
  Board& add(Board board);
  ShapedBoard& add(ShapedBoard board);
  Board& board(std::string_view name) { return boards_.find(name)->second; }

  /// Bores a hole in a board.
  void drill(const std::string& board, Hole hole) { holes(board)->push_back(std::move(hole)); }

  /// Bores the boards and adds the screw; returns its id.
  std::string screw(const Screw& screw);

  /// Joins two parts by their names without the module: "joint.A.to.B".
  void join(const std::string& kind, const std::string& a, const std::string& b,
            std::vector<std::string> hardware = {});

  /// Reports, once for each field, the screw that fits worst.
  void tell_misfits();
  /// Hands the boards to the workshop, and tells the misfits.
  void finish();

 private:
  void judge(const Screw& screw, double tip, double near, double far);
  void keep_worst(Finding finding, const std::string& field, double excess);

  const ModuleRequest& request_;
  Workshop& shop_;
  /// Where a line meets the wood of a board, as distances along it, and the board's holes.
  std::pair<double, double> wood(const Screw& screw, const std::string& board) const;
  std::vector<Hole>* holes(const std::string& board);
  const Bolt& bolt_of(const Screw& screw) const;

  std::map<std::string, Board, std::less<>> boards_;
  std::map<std::string, ShapedBoard, std::less<>> shaped_;
  struct Misfit {
    double excess = 0.0;
    Finding finding;
  };
  std::map<std::pair<std::string, std::string>, Misfit> misfits_;  ///< by code and field
};

}  // namespace ribbay::detail
