#include "base/tolerance.hpp"
#include "bunk_fold.hpp"
#include "butt_hinges.hpp"
#include "folding_leg.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Middle of a leg from the bunk's end, and depth of the board that it is screwed to (common
/// practice, no source).
constexpr double kLegFromEnd = 120.0;
constexpr double kPadDepth = 150.0;
/// Screws down into a joist keep this from those in its ends (common practice, no source).
constexpr double kJoistScrewEnd = 60.0;

/// The leaf as it is built: every part that it takes along.
class LeafMaker {
 public:
  explicit LeafMaker(const FoldWork& work) : work_{work}, plan_{work.plan} {}

  void make() {
    add_rails();
    const std::string hinged = work_.request.fields.text("deck") == "panels" ? add_panel() : add_slats();
    if (plan_.guard != nullptr) add_guard();
    add_pad(true);
    add_pad(false);
    hang(hinged);
  }

 private:
  double wide() const { return work_.request.size.x; }
  double t() const { return plan_.rail->thickness; }
  double rail_middle() const { return (plan_.low + plan_.deck_bottom) / 2; }

  void add(Board board) {
    parts_.push_back(work_.shop.id(board.name));
    work_.joinery.add(std::move(board));
  }
  /// Screws in a row of places, from one board into another, which it joins.
  void screw(const std::string& from, const std::string& into, const char* field, Vec3 direction,
             const std::vector<Vec3>& places) {
    std::vector<std::string> screws;
    for (const Vec3& at : places) {
      screws.push_back(work_.joinery.screw(
          {.name = from + ".screw." + into + "_" + std::to_string(screws.size() + 1),
           .field = field,
           .at = at,
           .direction = direction,
           .from = from,
           .into = into}));
    }
    parts_.insert(parts_.end(), screws.begin(), screws.end());
    work_.joinery.join("screwed", from, into, std::move(screws));
  }
  std::vector<Vec3> along_x(const std::vector<double>& places, double y, double z) const {
    std::vector<Vec3> all;
    for (const double x : places) all.push_back({x, y, z});
    return all;
  }

  /// Rails along the front and the rear, and joists between them, screwed through the rails.
  void add_rails() {
    const double rear = plan_.rear_rail;
    add(fold_board("rail.front", "Front rail", *plan_.rail,
                   {{0, plan_.front, plan_.low}, {wide(), plan_.front + t(), plan_.deck_bottom}},
                   {0, -1, 0}, {1, 0, 0}));
    add(fold_board("rail.rear", "Rear rail", *plan_.rail,
                   {{0, rear, plan_.low}, {wide(), rear + t(), plan_.deck_bottom}}, {0, -1, 0},
                   {1, 0, 0}));
    const double high = plan_.deck_bottom - plan_.low;
    for (std::size_t i = 0; i < plan_.joists.size(); ++i) {
      const double x = plan_.joists[i];
      const std::string name = joist(i);
      add(fold_board(name, "Joist", *plan_.rail,
                     {{x - t() / 2, plan_.front + t(), plan_.low},
                      {x + t() / 2, rear, plan_.deck_bottom}},
                     {1, 0, 0}, {0, 1, 0}));
      const auto ends = [&](double y) {
        return std::vector<Vec3>{{x, y, plan_.low + 0.25 * high}, {x, y, plan_.low + 0.5 * high}};
      };
      screw("rail.front", name, "screw", {0, 1, 0}, ends(plan_.front));
      screw("rail.rear", name, "screw", {0, -1, 0}, ends(rear + t()));
    }
  }
  static std::string joist(std::size_t i) { return "joist_" + std::to_string(i + 1); }

  /// One panel; returns its name.
  std::string add_panel() {
    add(fold_board("deck", "Deck panel", *plan_.deck,
                   {{0, plan_.front, plan_.deck_bottom}, {wide(), plan_.deck_rear(), plan_.deck_top}},
                   {0, 0, 1}, {1, 0, 0}));
    screw_down("deck", "rail.front", plan_.front + t() / 2);
    screw_down("deck", "rail.rear", plan_.rear_rail + t() / 2);
    for (std::size_t i = 0; i < plan_.joists.size(); ++i) {
      std::vector<Vec3> places;
      for (const double y : spread(plan_.front + t() + kJoistScrewEnd,
                                   plan_.rear_rail - kJoistScrewEnd, kFoldScrewPitch))
        places.push_back({plan_.joists[i], y, plan_.deck_top});
      screw("deck", joist(i), "screw", {0, 0, -1}, places);
    }
    return "deck";
  }
  void screw_down(const std::string& board, const std::string& rail, double y) {
    screw(board, rail, "screw", {0, 0, -1}, along_x(work_.between_joists(), y, plan_.deck_top));
  }

  /// Slats along the bunk, evenly spaced from front to rear; the last one carries the hinges. Returns
  /// its name.
  std::string add_slats() {
    const Record& fields = work_.request.fields;
    const double narrow = fields.number("slat_width");
    const double gap = fields.number("slat_gap");
    // The last slat reaches over the hinges' leaves and the rear rail, the first over the front one.
    const double last = std::max(narrow, plan_.deck_rear() - plan_.rear_rail + t());
    const double first = std::max(narrow, 2 * t());
    const double from = plan_.front;
    const double room = plan_.deck_rear() - from - first - last;
    const int between = std::max(0, static_cast<int>(std::floor((room - gap) / (narrow + gap))));
    const double rest = (room - between * narrow) / (between + 1);
    double y = from;
    std::string name;
    for (int i = 0; i < between + 2; ++i) {
      const bool front = i == 0;
      const bool rear = i == between + 1;
      const double width = front ? first : rear ? last : narrow;
      name = "slat_" + std::to_string(i + 1);
      add(fold_board(name, "Slat", *plan_.deck,
                     {{0, y, plan_.deck_bottom}, {wide(), y + width, plan_.deck_top}}, {0, 0, 1},
                     {1, 0, 0}));
      if (front) screw_down(name, "rail.front", plan_.front + t() / 2);
      if (rear) screw_down(name, "rail.rear", plan_.rear_rail + t() / 2);
      if (!front && !rear) {
        for (std::size_t j = 0; j < plan_.joists.size(); ++j)
          screw(name, joist(j), "screw", {0, 0, -1},
                {{plan_.joists[j], y + width / 2, plan_.deck_top}});
      }
      y += width + rest;
    }
    return name;
  }

  /// Along the front, screwed to the front rail a quarter of the way from joist to joist.
  void add_guard() {
    add(fold_board("guard", "Guard", *plan_.guard,
                   {{0, 0, plan_.low}, {wide(), plan_.front, work_.request.size.z}}, {0, -1, 0},
                   {1, 0, 0}));
    std::vector<double> places;
    for (std::size_t i = 0; i + 1 < plan_.joists.size(); ++i) {
      for (const double share : {0.25, 0.75})
        places.push_back(plan_.joists[i] + share * (plan_.joists[i + 1] - plan_.joists[i]));
    }
    screw("guard", "rail.front", "guard_screw", {0, 1, 0}, along_x(places, 0.0, rail_middle()));
  }

  /// The board at a front corner that a leg is screwed to, below rail and joists. The leg folds along
  /// the bunk, the one at the left first.
  void add_pad(bool left) {
    const std::size_t end = left ? 0 : plan_.joists.size() - 1;
    const std::size_t next = left ? 1 : end - 1;
    const double x0 = left ? 0.0 : plan_.joists[next] - t() / 2;
    const double x1 = left ? plan_.joists[next] + t() / 2 : wide();
    const double z = plan_.low - t();
    const std::string name = "pad." + work_.side(left);
    add(fold_board(name, "Leg pad", *plan_.rail,
                   {{x0, plan_.front, z}, {x1, plan_.front + kPadDepth, plan_.low}}, {0, 0, -1},
                   {1, 0, 0}));
    for (const std::size_t i : {end, next}) {
      std::vector<Vec3> places;
      for (const double from : {kJoistScrewEnd, kJoistScrewEnd + 50.0})
        places.push_back({plan_.joists[i], plan_.front + t() + from, z});
      screw(name, joist(i), "screw", {0, 0, 1}, places);
    }
    const double x = left ? kLegFromEnd : wide() - kLegFromEnd;
    const Leg leg = add_folding_leg(work_, {.name = "leg." + work_.side(left),
                                            .title = left ? "Leg" : "Other leg",
                                            .asked = work_.asked("leg"),
                                            .at = {x, plan_.front + kPadDepth / 2, z},
                                            .along = {left ? 1.0 : -1.0, 0, 0},
                                            .board = name,
                                            .folded = false,
                                            .brought = {},
                                            .after = last_leg_});
    if (leg.parts.empty()) return;
    last_leg_ = leg.motion;
    parts_.insert(parts_.end(), leg.parts.begin(), leg.parts.end());
  }

  /// Folded up the hinges lie on the deck, folded down under it.
  void hang(const std::string& hinged) {
    const double side = plan_.up ? 1.0 : -1.0;
    const double face = plan_.up ? plan_.deck_top : plan_.deck_bottom;
    const double strip = plan_.up ? plan_.wall : plan_.inner;
    const Vec3 into{0, 0, -side};
    auto motion = hang_flap(
        work_,
        {.name = "leaf",
         .title = plan_.up ? "Bunk, folding up" : "Bunk, folding down",
         .asked = work_.asked("hinge"),
         .pin = {0, plan_.pin, face + side * plan_.hinge->thickness},
         .along = {1, 0, 0},
         .from = 0.0,
         .to = wide(),
         .fixed = {.board = "strip", .across = {0, 1, 0}, .into = into, .face = strip - plan_.pin},
         .moving = {.board = hinged,
                    .across = {0, -1, 0},
                    .into = into,
                    .face = plan_.deck_rear() - (plan_.up ? plan_.front : plan_.rear_rail + t())},
         .arm = {0, -1, 0},
         .towards = {0, 0, side},
         .angle = std::numbers::pi,
         .opens = std::numbers::pi / 2,
         .spreads = false},
        *plan_.hinge, std::move(parts_));
    if (!motion) return;
    motion->gives_way = work_.request.name +
                        (work_.request.fields.has("hinge_strip") ? ".hinge_strip" : ".depth");
    motion->after = last_leg_;
    work_.shop.made().motions.push_back(std::move(*motion));
  }

  const FoldWork& work_;
  const FoldPlan& plan_;
  std::vector<std::string> parts_;
  std::string last_leg_;
};

}  // namespace

void make_leaf(const FoldWork& work) {
  LeafMaker(work).make();
}

}  // namespace ribbay::detail
