// The check squares of templates against all else that is drawn.
#include "bench/templates.hpp"
#include "projects.hpp"

#include <algorithm>
#include <cmath>

using namespace ribbay;
using namespace ribbay::testing;

TEST_CASE(
    "check squares keep off all other ink, beside the part where there is room, and say what they "
    "are",
    "[bench][template][projects]") {
  std::size_t sheets = 0;
  for (const std::string& file : project_files()) {
    CAPTURE(file);
    const Layout layout = laid_out_file(file);
    for (const Template& made : templates(layout, {})) {
      CAPTURE(made.name);
      for (const Drawing& page : made.pages) {
        CAPTURE(page.title);
        const auto words = std::ranges::find(page.texts, "do not cut", &InkText::text);
        REQUIRE(words != page.texts.end());
        // The square around the words: the nearest four lines of one length that is 100, 50 or 25.
        const double x = words->at.x;
        Rect square;
        for (const InkLine& line : page.lines) {
          const double long_ = length(line.b - line.a);
          const bool side = std::abs(long_ - 100) < 1e-6 || std::abs(long_ - 50) < 1e-6 ||
                            std::abs(long_ - 25) < 1e-6;
          if (!side || line.a.y != line.b.y || std::abs((line.a.x + line.b.x) / 2 - x) > 1e-6)
            continue;
          if (std::min(line.a.y, line.b.y) > words->at.y) continue;
          square = {{x - long_ / 2, line.a.y}, {x + long_ / 2, line.a.y + long_}};
        }
        REQUIRE(square.width() > 24.0);
        ++sheets;
        const Rect inner = grown(square, -0.5);
        for (const InkLine& line : page.lines) CHECK_FALSE(crosses(line.a, line.b, inner));
        for (const InkArc& arc : page.arcs) {
          const auto points = arc.polyline();
          for (std::size_t i = 1; i < points.size(); ++i)
            CHECK_FALSE(crosses(points[i - 1], points[i], inner));
        }
      }
    }
  }
  CHECK(sheets > 150);
}
