#include "shared_rectangles.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <tuple>

namespace ribbay::detail {

namespace {

constexpr double kChord = 0.2;           // mm, of polygons that cover arcs
constexpr double kSameSize = 0.5;        // mm, between an outline's bounds and the piece
constexpr double kHollow = 0.03;         // of a rectangle: less is not worth a jigsaw
constexpr std::size_t kMostOutlines = 6;  // of one stock; those that leave most of their rectangles

double area_of(const Polygon& polygon) {
  double twice = 0.0;
  for (std::size_t i = 0; i < polygon.size(); ++i)
    twice += cross(polygon[i], polygon[(i + 1) % polygon.size()]);
  return twice / 2;
}

/// From `a` to `b` about the centre: touched from outside where it bulges, cut off where it is hollow.
void add_arc(const Side& side, Polygon& polygon) {
  const auto angle_of = [&](Vec2 p) { return std::atan2(p.y - side.centre.y, p.x - side.centre.x); };
  const double from = angle_of(side.a);
  double turn = angle_of(side.b) - from;
  constexpr double kFull = 2 * std::numbers::pi;
  if (side.counter_clockwise && turn < 0.0) turn += kFull;
  if (!side.counter_clockwise && turn > 0.0) turn -= kFull;
  const double most = 2 * std::acos(std::max(0.0, 1.0 - kChord / side.radius));
  const int steps = std::max(1, static_cast<int>(std::ceil(std::abs(turn) / most)));
  const double step = turn / steps;
  const auto at = [&](double angle, double radius) {
    return side.centre + Vec2{std::cos(angle), std::sin(angle)} * radius;
  };
  polygon.push_back(side.a);
  for (int i = 0; i < steps; ++i) {
    if (side.counter_clockwise)
      polygon.push_back(at(from + (i + 0.5) * step, side.radius / std::cos(step / 2)));
    else if (i > 0)
      polygon.push_back(at(from + i * step, side.radius));
  }
}

struct Outline {
  std::size_t piece = 0;  ///< of the order
  Polygon polygon;        ///< its length along x
  double hollow = 0.0;    ///< of its rectangle, mm2
};

Vec2 size_of(const Polygon& polygon) {
  Vec2 size;
  for (const Vec2 p : polygon) size = {std::max(size.x, p.x), std::max(size.y, p.y)};
  return size;
}

/// The outline of a panel as it lies on the sheet; nullopt where its sizes are others.
std::optional<Polygon> on_sheet(const Part& part) {
  if (!part.flat && part.shape->prisms.size() != 1) return std::nullopt;
  const Prism& blank = part.flat ? part.flat->blank : part.shape->prisms.front().prism;
  Polygon polygon = covering(blank.section.outer);
  const auto fits = [&] {
    const Vec2 size = size_of(polygon);
    return std::abs(size.x - part.stock.length) < kSameSize &&
           std::abs(size.y - part.stock.width) < kSameSize;
  };
  if (fits()) return polygon;
  const double across = size_of(polygon).y;
  for (Vec2& p : polygon) p = {across - p.y, p.x};
  return fits() ? std::optional(polygon) : std::nullopt;
}

std::vector<Outline> outlines_of(const Layout& layout, const std::vector<const PartType*>& types) {
  std::vector<Outline> outlines;
  for (std::size_t p = 0; p < types.size(); ++p) {
    const auto polygon = on_sheet(layout.parts[types[p]->parts.front()]);
    if (!polygon) continue;
    const Vec2 size = size_of(*polygon);
    const double hollow = size.x * size.y - area_of(*polygon);
    if (hollow > kHollow * size.x * size.y) outlines.push_back({p, *polygon, hollow});
  }
  std::ranges::stable_sort(outlines, std::greater{}, &Outline::hollow);
  if (outlines.size() > kMostOutlines) outlines.resize(kMostOutlines);
  return outlines;
}

/// A way to put two pieces, or two of one kind, into one rectangle.
struct Choice {
  std::size_t first = 0;  ///< of the order's pieces
  std::size_t second = 0;
  double saved = 0.0;  ///< mm2
  OutlinePair pair;
};

std::vector<Choice> choices_of(const std::vector<Outline>& outlines, const SheetOrder& order) {
  const double kerf = order.saw.kerf;
  const auto area = [&](double length, double width) { return (length + kerf) * (width + kerf); };
  std::vector<Choice> choices;
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    for (std::size_t j = i; j < outlines.size(); ++j) {
      const SheetPiece& a = order.pieces[outlines[i].piece];
      const SheetPiece& b = order.pieces[outlines[j].piece];
      if (a.grain != b.grain || (i == j && a.count < 2)) continue;
      auto pair = pair_outlines(outlines[i].polygon, outlines[j].polygon, kerf);
      if (!pair) continue;
      const double saved =
          area(a.length, a.width) + area(b.length, b.width) - area(pair->length, pair->width);
      choices.push_back({outlines[i].piece, outlines[j].piece, saved, std::move(*pair)});
    }
  }
  std::ranges::stable_sort(choices, std::greater{}, &Choice::saved);
  return choices;
}

bool on_some_sheet(const OutlinePair& pair, bool grain, const SheetOrder& order) {
  return std::ranges::any_of(order.stock, [&](const SheetStock& stock) {
    const double length = stock.length - 2 * order.saw.trim;
    const double width = stock.width - 2 * order.saw.trim;
    return (pair.length <= length && pair.width <= width) ||
           (!grain && pair.length <= width && pair.width <= length);
  });
}

struct Paired {
  SheetOrder order;
  std::vector<SharedRectangle> shared;
};

/// The pairs that save most, as often as there are pieces for them.
Paired paired(const SheetOrder& order, const std::vector<Choice>& choices) {
  std::vector<int> left;
  for (const SheetPiece& piece : order.pieces) left.push_back(piece.count);
  Paired made{{{}, order.stock, order.saw}, {}};
  std::vector<SheetPiece> pairs;
  for (const Choice& choice : choices) {
    const SheetPiece& a = order.pieces[choice.first];
    const SheetPiece& b = order.pieces[choice.second];
    const bool alike = choice.first == choice.second;
    const int count = alike ? left[choice.first] / 2
                            : std::min(left[choice.first], left[choice.second]);
    if (count == 0 || !on_some_sheet(choice.pair, a.grain, order)) continue;
    left[choice.first] -= count;
    left[choice.second] -= count;
    SheetPiece both = a;
    both.label = a.label + "+" + b.label;
    both.length = choice.pair.length;
    both.width = choice.pair.width;
    both.count = count;
    both.holds = 2;
    made.shared.push_back({pairs.size(), a.label, b.label, choice.pair});
    pairs.push_back(std::move(both));
  }
  for (std::size_t p = 0; p < order.pieces.size(); ++p) {
    if (left[p] == 0) continue;
    made.order.pieces.push_back(order.pieces[p]);
    made.order.pieces.back().count = left[p];
  }
  for (SharedRectangle& each : made.shared) each.piece += made.order.pieces.size();
  std::ranges::move(pairs, std::back_inserter(made.order.pieces));
  return made;
}

}  // namespace

Polygon covering(const Loop& outline) {
  Polygon polygon;
  for (const Side& side : sides(outline)) {
    if (side.arc)
      add_arc(side, polygon);
    else
      polygon.push_back(side.a);
  }
  Vec2 lo = polygon.front();
  for (const Vec2 p : polygon) lo = {std::min(lo.x, p.x), std::min(lo.y, p.y)};
  for (Vec2& p : polygon) p = p - lo;
  return polygon;
}

void share_rectangles(const Layout& layout, const std::vector<const PartType*>& types,
                      StockPlan& made) {
  if (made.plans.sheets.empty()) return;
  const SheetOrder& order = made.orders.sheets.front();
  const SheetsPlan& apart = made.plans.sheets.front();
  const std::vector<Outline> outlines = outlines_of(layout, types);
  int pieces = 0;
  for (const Outline& each : outlines) pieces += order.pieces[each.piece].count;
  if (pieces < 2) return;
  made.sharing = Sharing{.taken = false,
                         .sheets_apart = apart.layouts.size(),
                         .sheets_shared = apart.layouts.size(),
                         .saved = 0.0};
  if (apart.layouts.size() < 2) return;
  Paired with = paired(order, choices_of(outlines, order));
  if (with.shared.empty()) return;
  auto plan = plan_sheets(with.order);
  if (!plan || plan->cost >= apart.cost - 1e-9) return;
  *made.sharing = {.taken = true,
                   .sheets_apart = apart.layouts.size(),
                   .sheets_shared = plan->layouts.size(),
                   .saved = apart.cost - plan->cost};
  made.shared = std::move(with.shared);
  made.orders.sheets.front() = std::move(with.order);
  made.plans.sheets.front() = std::move(*plan);
}

std::string sharing_words(const StockPlan& plan, LengthStyle show) {
  if (!plan.sharing) return {};
  const auto sheets = [](std::size_t count) {
    return std::to_string(count) + (count == 1 ? " sheet" : " sheets");
  };
  if (!plan.sharing->taken)
    return "Pieces with curved or sloping outlines go as the rectangles around them: in pairs that "
           "share\none rectangle they save no sheet.\n";
  std::string text = "Pieces with curved or sloping outlines go in pairs that share one rectangle: " +
                     sheets(plan.sharing->sheets_shared) + " and not " +
                     sheets(plan.sharing->sheets_apart) + ", " +
                     rounded_text(plan.sharing->saved, 2) + " " + plan.orders.cost_unit +
                     " less. Saw the\nrectangle, then part the two with a jigsaw or router as "
                     "drawn on the cutting plan:\n";
  for (const SharedRectangle& each : plan.shared) {
    text += "  " + each.first + "+" + each.second + ": " +
            length_text(each.outlines.length, show) + " x " +
            length_text(each.outlines.width, show) +
            (each.outlines.turned ? ", the second turned by half a turn\n" : "\n");
  }
  return text + "The bound below holds for these rectangles alone.\n";
}

}  // namespace ribbay::detail
