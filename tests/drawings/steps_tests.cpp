#include "drawings/audit.hpp"
#include "drawings/steps.hpp"
#include "projects.hpp"
#include "samples.hpp"
#include "shape/pieces.hpp"
#include "told_hardware.hpp"

#include <catch2/catch.hpp>

#include <regex>
#include <set>

using namespace ribbay;

namespace {

/// Bounds of the convex pieces of a part where a picture shows it.
void add_boxes(const Part& part, Vec3 shift, std::vector<Box>& boxes) {
  for (const ConvexPiece& piece : pieces(part.body())) {
    Box box;
    for (const Vec3 p : placed(piece, part.frame).vertices) box.add(p + shift);
    boxes.push_back(box);
  }
}

bool overlap(const Box& a, const Box& b, double deeper_than) {
  for (int axis = 0; axis < 3; ++axis) {
    if (std::min(a.hi[axis], b.hi[axis]) - std::max(a.lo[axis], b.lo[axis]) <= deeper_than)
      return false;
  }
  return true;
}

}  // namespace

TEST_CASE("what is drawn apart follows the order of assembly, step by step", "[drawings][steps]") {
  const Layout layout = testing::demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const auto groups = taken_apart(layout, plan);
  std::vector<std::vector<std::size_t>> told(plan.units.size());
  for (const ApartGroup& group : groups) {
    const AssemblyUnit& unit = plan.units[group.unit];
    CAPTURE(unit.name);
    CHECK(group.steps.size() <= kMostApart);
    // What stands is what the steps before have brought.
    std::set<std::string> before;
    for (std::size_t i = 0; i < group.steps.front().step; ++i)
      before.insert(unit.steps[i].parts.begin(), unit.steps[i].parts.end());
    std::set<std::string> standing;
    for (const std::size_t part : group.standing) {
      if (layout.parts[part].kind != PartKind::hardware) standing.insert(layout.parts[part].id);
    }
    CHECK(standing == before);
    for (const ApartStep& apart : group.steps) {
      told[group.unit].push_back(apart.step);
      const AssemblyStep& step = unit.steps[apart.step];
      for (std::size_t i = 0; i < step.parts.size(); ++i)
        CHECK(layout.parts[apart.parts[i]].id == step.parts[i]);
      // It stands off against the way that it is brought in; the first thing lies in its place.
      if (apart.step == 0) {
        CHECK(length(apart.shift) == 0.0);
      } else {
        REQUIRE(length(apart.shift) > 10.0);
        if (step.straight) {
          // It is drawn off along the way that it comes first.
          const Vec3 way = length(step.first) > 0.5 ? step.first : step.direction;
          CHECK(dot(normalized(apart.shift), way) < -0.9999);
        }
      }
    }
  }
  for (std::size_t u = 0; u < plan.units.size(); ++u) {
    // One thing alone has a picture when hardware goes with it, as the ceiling's screws do.
    const AssemblyUnit& unit = plan.units[u];
    const bool drawn = unit.steps.size() > 1 || !unit.fixings.empty() ||
                       !unit.steps.front().with.empty() || !unit.steps.front().fasteners.empty();
    std::vector<std::size_t> wanted(drawn ? unit.steps.size() : 0);
    for (std::size_t i = 0; i < wanted.size(); ++i) wanted[i] = i;
    CHECK(told[u] == wanted);
  }
}

TEST_CASE("things drawn apart overlap neither each other nor what stands", "[drawings][steps]") {
  const Layout layout = testing::demo();
  const AssemblyPlan plan = plan_assembly(layout);
  std::size_t pairs = 0;
  for (const ApartGroup& group : taken_apart(layout, plan)) {
    CAPTURE(plan.units[group.unit].name, group.steps.front().step);
    std::vector<std::vector<Box>> things(1);
    for (const std::size_t part : group.standing) {
      if (layout.parts[part].kind != PartKind::hardware)
        add_boxes(layout.parts[part], {}, things[0]);
    }
    for (const ApartStep& step : group.steps) {
      things.emplace_back();
      for (const std::size_t part : step.parts) {
        if (layout.parts[part].kind != PartKind::hardware)
          add_boxes(layout.parts[part], step.shift, things.back());
      }
    }
    for (std::size_t a = 0; a < things.size(); ++a) {
      for (std::size_t b = a + 1; b < things.size(); ++b) {
        for (const Box& one : things[a]) {
          for (const Box& other : things[b]) {
            ++pairs;
            // Pieces cover arcs from outside: a tenth covers what they stand off.
            CHECK_FALSE(overlap(one, other, 0.1));
          }
        }
      }
    }
  }
  CHECK(pairs > 1000);
}

namespace {

struct Steps {
  int first = 0;
  int last = -1;
  int count() const { return last - first + 1; }
};

/// The steps that a row of the table is for: "7", or "7–9"; none of another text.
Steps steps_of(const std::string& text) {
  static const std::regex form("([0-9]+)(?:–([0-9]+))?");
  std::smatch match;
  if (!std::regex_match(text, match, form)) return {};
  const int first = std::stoi(match[1]);
  return {first, match[2].matched ? std::stoi(match[2]) : first};
}

}  // namespace

TEST_CASE("each step has its number in a balloon and in the table, and pages are clean",
          "[drawings][steps]") {
  const bool rack = GENERATE(false, true);
  Layout layout = rack ? samples::rack() : samples::cabinet();
  const bool stamped = GENERATE(false, true);
  const bool inches = GENERATE(false, true);
  layout.project.show = inches ? LengthStyle::inches : LengthStyle::millimetres;
  const AssemblyPlan plan = plan_assembly(layout);
  REQUIRE(plan.units.size() == 1);
  REQUIRE(plan.units[0].steps.size() == (rack ? 19 : 8));
  const auto pages = step_pages(layout, plan, {.not_for_cutting = stamped});
  CHECK(pages.size() >= (plan.units[0].steps.size() + kMostApart - 1) / kMostApart);
  CHECK(pages.size() <= 5);
  std::size_t step = 0;
  std::set<std::string> paths;
  for (const SetPage& page : pages) {
    CAPTURE(page.path);
    CHECK(page.path.starts_with("drawings/60"));
    CHECK(paths.insert(page.path).second);
    for (const Fault& f : audit(page.drawing))
      FAIL_CHECK(f.what << " " << f.at.x << ", " << f.at.y);
    const Drawing& d = page.drawing;
    // Balloons are the circles of 4.2; their numbers stand in them.
    std::set<int> balloons;
    std::set<double> columns;
    for (const InkArc& arc : d.arcs) {
      if (std::abs(length(arc.u) - 4.2) > 1e-9 || arc.view >= 0) continue;
      columns.insert(arc.centre.x);
      for (const InkText& t : d.texts) {
        if (length(extent(t).centre() - arc.centre) < 2.0) balloons.insert(std::stoi(t.text));
      }
    }
    CHECK(columns.size() <= 2);
    REQUIRE_FALSE(balloons.empty());
    CHECK(*balloons.begin() == static_cast<int>(step) + 1);
    CHECK(*balloons.rbegin() == static_cast<int>(step + balloons.size()));
    step += balloons.size();
    for (const int number : balloons) {
      // In its balloon and in its row; grid references of the page stand outside of the frame.
      const auto stands = [&](const InkText& t) {
        const Steps steps = steps_of(t.text);
        return !t.border && steps.first <= number && number <= steps.last;
      };
      CHECK(std::ranges::count_if(d.texts, stands) >= 2);
    }
  }
  CHECK(step == plan.units[0].steps.size());
}

namespace {

/// The texts of the table's last column, from above; what is told of several steps at once so many
/// times.
std::string told_with_it(const Drawing& d) {
  const auto head = std::ranges::find(d.texts, "With it", &InkText::text);
  const auto first = std::ranges::find(d.texts, "Step", &InkText::text);
  REQUIRE(head != d.texts.end());
  REQUIRE(first != d.texts.end());
  std::map<double, std::string, std::greater<>> rows;
  std::map<double, std::string, std::greater<>> numbers;
  for (const InkText& t : d.texts) {
    if (t.border || t.at.y >= head->at.y) continue;
    if (std::abs(t.at.x - head->at.x) < 0.1) rows[t.at.y] = t.text;
    const bool number = std::abs(t.at.x - first->at.x) < 0.1 && !t.text.empty();
    if (number || t.text == "In its place") numbers[t.at.y] = t.text;
  }
  std::string all;
  for (auto row = rows.begin(); row != rows.end();) {
    const auto number = numbers.find(row->first);
    std::string told;
    do {
      told += row->second + " ";
      ++row;
    } while (row != rows.end() && !numbers.contains(row->first));
    const int times = number == numbers.end() ? 1 : std::max(1, steps_of(number->second).count());
    for (int i = 0; i < times; ++i) all += told;
  }
  return all;
}

}  // namespace

TEST_CASE("the sheets of a module tell each piece of its hardware once",
          "[drawings][steps][projects]") {
  std::size_t titles = 0;
  for (const std::string& file : testing::project_files()) {
    CAPTURE(file);
    const Layout layout = testing::laid_out_file(file);
    const AssemblyPlan plan = plan_assembly(layout);
    const auto pages = step_pages(layout, plan);
    const auto groups = taken_apart(layout, plan);
    REQUIRE(pages.size() == groups.size());
    std::map<std::string, std::string> told;
    for (std::size_t i = 0; i < pages.size(); ++i)
      told[plan.units[groups[i].unit].module] += told_with_it(pages[i].drawing);
    for (const Module& module : layout.modules) {
      for (const auto& [title, count] : testing::hardware_in(layout, module.name)) {
        CAPTURE(module.name, title, told[module.name]);
        CHECK(testing::told_of(told[module.name], title) == count);
        ++titles;
      }
    }
  }
  CHECK(titles > 50);
}

TEST_CASE("a balloon's dot lies inside what it names, off every line",
          "[drawings][steps][projects]") {
  std::size_t dots = 0;
  std::size_t on_a_line = 0;
  for (const std::string& file : testing::project_files()) {
    const Layout layout = testing::laid_out_file(file);
    for (const SetPage& page : step_pages(layout, plan_assembly(layout))) {
      CAPTURE(page.path);
      for (const InkFill& fill : page.drawing.fills) {
        Rect r{fill.corners.front(), fill.corners.front()};
        for (const Vec2 p : fill.corners) r = united(r, {p, p});
        if (std::abs(r.width() - 1.0) > 0.05 || std::abs(r.height() - 1.0) > 0.05) continue;
        const Vec2 at = r.centre();
        double least = 1e9;
        for (const InkLine& line : page.drawing.lines) {
          if (line.view < 0) continue;
          const Vec2 along = line.b - line.a;
          const double t = std::clamp(dot(at - line.a, along) / dot(along, along), 0.0, 1.0);
          least = std::min(least, length(at - line.a - along * t));
        }
        ++dots;
        on_a_line += least < 0.5 ? 1 : 0;  // its radius
        CAPTURE(at.x, at.y);
        if (page.path.find("galley-steps") != std::string::npos && layout.project.name == "marsh")
          CHECK(least > 0.5);
      }
    }
  }
  CHECK(dots > 200);
  // What is thinner than a dot leaves no room: slats on edge, what peeps out behind others.
  CHECK(on_a_line * 30 < dots);
}
