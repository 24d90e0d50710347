#include "drawings/audit.hpp"
#include "drawings/drawings.hpp"
#include "samples.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

TEST_CASE("positions that stand in a table are marked on their view", "[drawings][assembly]") {
  // Shelves 25 mm apart: more values than lines of text have room beside the view at any scale.
  Layout layout = samples::rack();
  layout.parts.clear();
  for (int i = 0; i < 40; ++i) {
    layout.parts.push_back(samples::panel("rack/shelf." + std::to_string(100 + i), "Shelf",
                                          {0, 0, 25.0 * i}, {1, 0, 0}, {0, 1, 0}, 400, 700));
  }
  samples::finish(layout);
  const auto pages = drawing_set(layout);
  const auto page = std::ranges::find_if(
      pages, [](const SetPage& p) { return p.path.find("010-rack") != std::string::npos; });
  REQUIRE(page != pages.end());
  const Drawing& d = page->drawing;
  CHECK(audit(d).empty());
  const auto heading = std::ranges::find(d.texts, "Front view, from below", &InkText::text);
  REQUIRE(heading != d.texts.end());
  // Beside the front view, whose overall height is 986.8: short upright-view marks, one for each row.
  const auto height = std::ranges::find(d.dimensions, "986.8", &InkDimension::text);
  REQUIRE(height != d.dimensions.end());
  const Rect view = d.views[static_cast<std::size_t>(height->view)];
  int marks = 0;
  for (const InkLine& l : d.lines) {
    if (l.view >= 0 || std::abs(l.a.y - l.b.y) > 1e-9) continue;
    const double near = std::max(l.a.x, l.b.x);
    const double size = std::abs(l.a.x - l.b.x);
    if (std::abs(near - (view.lo.x - 0.6)) > 1e-6 || size > 2.1) continue;
    const double at = (height->map.model(l.a.y) - 11.8) / 25.0;
    CHECK(std::abs(at - std::round(at)) < 1e-3);
    ++marks;
  }
  CHECK(marks == 39);  // the last one is the overall height
  // Numbers of rows stand at the marks: the first is there, small and to the left of the view.
  int numbers = 0;
  for (const InkText& t : d.texts) {
    if (t.height != 1.8 || t.at.x > view.lo.x || t.at.x < view.lo.x - 8.0) continue;
    const double at = (height->map.model(t.at.y + t.height / 2) - 11.8) / 25.0;
    CHECK(t.text == std::to_string(std::lround(at) + 1));
    ++numbers;
  }
  CHECK(numbers >= 10);
}
