#include "drawings/audit.hpp"
#include "drawings/dimension.hpp"
#include "drawings/sheet.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

#include <functional>
#include <map>

using namespace ribbay;

namespace {

struct Trial {
  Drawing drawing;
  ViewPlace view;
  std::vector<AxisPlan> axes;
  bool placed = false;
};

/// A rectangle with random positions on two axes, dimensioned on an A3.
Trial dimensioned(scenes::Random& random, int most, LengthStyle show) {
  Trial t;
  t.drawing = new_page(PageSize::a3, {});
  const double width = std::round(random.between(80, 1600));
  const double height = std::round(random.between(80, 1000));
  const double scale = scale_below(std::min(230.0 / width, 150.0 / height));
  const Vec2 corner{90, 80};
  t.view = {{corner, corner + Vec2{width, height} * scale},
            axis_map(0, corner.x, scale),
            axis_map(0, corner.y, scale)};
  add_rect(t.drawing, t.view.outline, kGroup50.visible());
  for (const bool across : {true, false}) {
    const double size = across ? width : height;
    AxisPlan plan{across ? ViewSide::bottom : ViewSide::left, 0, size, true, {}};
    const int n = random.below(most + 1);
    for (int i = 0; i < n; ++i)
      plan.positions.push_back(std::round(random.between(1, size - 1) * 2) / 2);
    t.axes.push_back(plan);
  }
  t.placed = add_axis_dimensions(t.drawing, t.view, t.axes, {.height = 2.5, .show = show});
  return t;
}

/// True when the sizes of one axis join all of its stations, each by exactly one way.
bool is_tree(const std::vector<std::pair<double, double>>& sizes, std::vector<double> wanted) {
  std::map<long long, long long> parent;
  const auto key = [](double v) { return std::llround(v * 1000); };
  const std::function<long long(long long)> root = [&](long long v) {
    if (!parent.contains(v)) parent[v] = v;
    return parent[v] == v ? v : parent[v] = root(parent[v]);
  };
  for (const auto& [a, b] : sizes) {
    const long long ra = root(key(a));
    const long long rb = root(key(b));
    if (ra == rb) return false;  // given twice
    parent[ra] = rb;
  }
  for (const double v : wanted) {
    if (root(key(v)) != root(key(wanted.front()))) return false;
  }
  return true;
}

}  // namespace

TEST_CASE(
    "dimensions say what they are drawn between, collide with nothing, and give each size once",
    "[drawings][dimension]") {
  const LengthStyle show = GENERATE(LengthStyle::millimetres, LengthStyle::inches);
  scenes::Random random(show == LengthStyle::inches ? 5U : 4U);
  int placed = 0;
  constexpr int trials = 400;
  for (int i = 0; i < trials; ++i) {
    const Trial t = dimensioned(random, 9, show);
    if (!t.placed) continue;
    ++placed;
    const auto faults = audit(t.drawing);
    for (const Fault& f : faults)
      FAIL_CHECK("trial " << i << ": " << f.what << " kind " << static_cast<int>(f.kind));
    for (const AxisPlan& axis : t.axes) {
      const bool across = axis.side == ViewSide::bottom;
      std::vector<std::pair<double, double>> sizes;
      for (const InkDimension& d : t.drawing.dimensions) {
        const AxisMap& own = across ? t.view.x : t.view.y;
        if (d.map.knots != own.knots) continue;
        sizes.emplace_back(own.model(d.from), own.model(d.to));
      }
      std::vector<double> wanted = axis.positions;
      wanted.insert(wanted.end(), {axis.datum, axis.end});
      CHECK(is_tree(sizes, wanted));
    }
  }
  CHECK(placed > trials * 9 / 10);
}

TEST_CASE("a size too small for its value puts it beside the arrows", "[drawings][dimension]") {
  Drawing d = new_page(PageSize::a4, {});
  const ViewPlace view{{{80, 150}, {130, 180}}, axis_map(0, 80, 0.1), axis_map(0, 150, 0.1)};
  REQUIRE(add_dimensions(d, view, {{ViewSide::bottom, 0, 12, 150, 150}}, {}, {}));
  CHECK(audit(d).empty());
  REQUIRE(d.dimensions.size() == 1);
  CHECK(d.dimensions[0].text == "12");
}

TEST_CASE("spreading keeps order and distance and moves as little as possible",
          "[drawings][dimension]") {
  scenes::Random random(9U);
  for (int trial = 0; trial < 200; ++trial) {
    std::vector<double> wanted;
    const int n = 1 + random.below(8);
    for (int i = 0; i < n; ++i) wanted.push_back(random.between(0, 60));
    std::ranges::sort(wanted);
    const auto out = spread(wanted, 5.0, -2.0, 62.0);
    REQUIRE(out.size() == wanted.size());
    const auto cost = [&](const std::vector<double>& at) {
      double sum = 0.0;
      for (std::size_t i = 0; i < at.size(); ++i) sum += (at[i] - wanted[i]) * (at[i] - wanted[i]);
      return sum;
    };
    const auto allowed = [](const std::vector<double>& at) {
      for (std::size_t i = 0; i < at.size(); ++i) {
        if (at[i] < -2.0 - 1e-9 || at[i] > 62.0 + 1e-9) return false;
        if (i > 0 && at[i] - at[i - 1] < 5.0 - 1e-9) return false;
      }
      return true;
    };
    REQUIRE(allowed(out));
    // A convex problem: no allowed small move of neighbours together may be better.
    for (std::size_t i = 0; i < out.size(); ++i) {
      for (std::size_t j = i; j < out.size(); ++j) {
        for (const double step : {-0.01, 0.01}) {
          auto moved = out;
          for (std::size_t k = i; k <= j; ++k) moved[k] += step;
          if (allowed(moved)) CHECK(cost(moved) >= cost(out) - 1e-9);
        }
      }
    }
  }
  CHECK(spread({1, 2, 3}, 5.0, 0.0, 9.0).empty());
}
