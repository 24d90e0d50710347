#include "drawings/audit.hpp"
#include "drawn_projects.hpp"
#include "samples.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <set>

using namespace ribbay;

namespace {

const Drawing& page_named(const std::vector<SetPage>& pages, const std::string& name) {
  const auto found = std::ranges::find_if(
      pages, [&](const SetPage& p) { return p.path.find(name) != std::string::npos; });
  REQUIRE(found != pages.end());
  return found->drawing;
}

const projects::Drawn& project(const std::string& file) {
  const auto found = std::ranges::find_if(
      projects::all(), [&](const projects::Drawn& p) { return p.file.ends_with(file); });
  REQUIRE(found != projects::all().end());
  return *found;
}

std::ptrdiff_t times(const Drawing& d, const std::string& size) {
  return std::ranges::count(d.dimensions, size, &InkDimension::text);
}

/// A board lying on its back, 500 by 300, with cuts through it.
Layout board(std::vector<Cut> cuts) {
  Layout layout = samples::rack();
  layout.parts = {samples::panel("rack/top", "Top", {0, 0, 0}, {1, 0, 0}, {0, 1, 0}, 500, 300,
                                 std::move(cuts))};
  samples::finish(layout);
  return layout;
}

/// The two positions that one may have, by the side that one measures from.
bool either(const Drawing& d, const std::string& one, const std::string& other) {
  return times(d, one) + times(d, other) == 1;
}

}  // namespace

TEST_CASE("an assembly places the opening of a plank wall by its edges, each once",
          "[drawings][openings][projects]") {
  // params/examples/partition.toml: from 250 mm left to 150 mm right of the centre line, from 500
  // to 800 mm over its foot.
  const projects::Drawn& wall = project("examples/partition.toml");
  const Drawing& d = page_named(wall.pages, "010-partition");
  CHECK(times(d, "500") == 1);
  CHECK(times(d, "800") == 1);
  const Module& module = *wall.layout.module("partition");
  // Across the van from the end that lies on the left in the view, whichever that is.
  Box made;
  for (const Part& part : wall.layout.parts) {
    if (part.module == module.name && part.kind != PartKind::hardware) made.add(bounds(part));
  }
  const auto told = [&](double a, double b) {
    return times(d, length_text(a, LengthStyle::millimetres)) == 1 &&
           times(d, length_text(b, LengthStyle::millimetres)) == 1;
  };
  CHECK(
      (told(made.hi.y - 250.0, made.hi.y + 150.0) || told(-150.0 - made.lo.y, 250.0 - made.lo.y)));
}

TEST_CASE("a worktop's cut-out is placed in the view from above", "[drawings][openings]") {
  const auto pages =
      drawing_set(board({{rectangle({60, 40}, {270, 190}, 10.0), -1, 12.8, CutRole::cut_out}}));
  const Drawing& d = page_named(pages, "010-rack");
  CHECK(audit(d).empty());
  CHECK(either(d, "60", "440"));
  CHECK(either(d, "270", "230"));
  CHECK(either(d, "40", "260"));
  CHECK(either(d, "190", "110"));
}

TEST_CASE("circles and slots are placed by their middles; notches and blind cuts are no openings",
          "[drawings][openings]") {
  const auto pages =
      drawing_set(board({{circle({190, 140}, 120), -1, 12.8, CutRole::cut_out},
                         {rectangle({400, 50}, {410, 130}), -1, 12.8, CutRole::cut_out},
                         {rectangle({-5, 220}, {45, 305}), -1, 12.8, CutRole::cut_out},
                         {rectangle({300, 210}, {350, 260}), 6.0, 12.8, CutRole::cut_out}}));
  const Drawing& d = page_named(pages, "010-rack");
  CHECK(either(d, "190", "310"));
  CHECK(either(d, "140", "160"));
  CHECK(either(d, "405", "95"));
  // The notch ends at 45 and 220, the blind cut lies from 300 to 350 and from 210 to 260, the slot
  // is 10 wide.
  for (const char* size :
       {"45", "455", "80", "220", "300", "200", "350", "150", "210", "90", "400", "410"}) {
    CAPTURE(size);
    CHECK(times(d, size) == (std::string(size) == "300" ? 1 : 0));  // the board is 300 deep
  }
}

TEST_CASE("an opening behind a board is not placed where nobody sees it", "[drawings][openings]") {
  Layout layout = board({{rectangle({60, 40}, {260, 190}), -1, 12.8, CutRole::cut_out}});
  layout.parts.push_back(
      samples::panel("rack/lid", "Lid", {0, 0, 40}, {1, 0, 0}, {0, 1, 0}, 500, 300));
  samples::finish(layout);
  const auto pages = drawing_set(layout);
  const Drawing& d = page_named(pages, "010-rack");
  for (const char* size : {"60", "440", "260", "240", "110", "190"}) {
    CAPTURE(size);
    CHECK(times(d, size) == 0);
  }
}

TEST_CASE("the sheet of a scribed board tells its outline every 100 mm",
          "[drawings][openings][projects]") {
  int rows = 0;
  const projects::Drawn& marsh = project("marsh/marsh.toml");
  for (const PartType& type : part_types(marsh.layout)) {
    const Part& part = marsh.layout.parts[type.parts.front()];
    if (!part.id.starts_with("partition/piece_")) continue;
    std::string mark = "-" + type.mark + "-";
    for (char& c : mark) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    const Drawing& d = page_named(marsh.pages, mark);
    CAPTURE(part.id);
    // The outline where it is cut at a length, by hand from its corners; the piece is measured from
    // the left or from the right, from its upper or its lower edge.
    const Loop& loop = part.shape->prisms.front().prism.section.outer;
    const Box box = bounds(*part.shape);
    const auto has = [&](double value) {
      return std::ranges::count(d.texts, length_text(value, LengthStyle::millimetres),
                                &InkText::text) > 0;
    };
    const bool upright = box.size().y > box.size().x;  // longer along y
    for (double at = 100.0; at < std::max(box.size().x, box.size().y) - 1.0; at += 100.0) {
      bool told = false;
      for (const bool from_far : {false, true}) {
        const double lo = upright ? box.lo.y : box.lo.x;
        const double hi = upright ? box.hi.y : box.hi.x;
        const double along = from_far ? hi - at : lo + at;
        double low = 1e9;
        double high = -1e9;
        for (std::size_t i = 0; i < loop.size(); ++i) {
          Vec2 a = loop[i].at;
          Vec2 b = loop[(i + 1) % loop.size()].at;
          if (upright) {
            std::swap(a.x, a.y);
            std::swap(b.x, b.y);
          }
          if ((a.x - along) * (b.x - along) > 0.0 || a.x == b.x) continue;
          const double y = a.y + (b.y - a.y) * (along - a.x) / (b.x - a.x);
          low = std::min(low, y);
          high = std::max(high, y);
        }
        const double edge_lo = upright ? box.lo.x : box.lo.y;
        const double edge_hi = upright ? box.hi.x : box.hi.y;
        told = told || (has(low - edge_lo) && has(high - edge_lo)) ||
               (has(edge_hi - high) && has(edge_hi - low));
      }
      CAPTURE(at);
      CHECK(told);
      ++rows;
    }
  }
  CHECK(rows >= 16);
}

TEST_CASE("an assembly says how high a module stands that does not stand on the floor",
          "[drawings][assembly][projects]") {
  int told = 0;
  for (const projects::Drawn& project : projects::all()) {
    if (!project.layout.vehicle) continue;
    CAPTURE(project.file);
    for (const Module& module : project.layout.modules) {
      Box made;
      for (const Part& part : project.layout.parts) {
        if (part.module == module.name && is_made(part.kind)) made.add(bounds(part));
      }
      if (made.empty()) continue;
      CAPTURE(module.name);
      std::string name = module.name + ".svg";
      std::ranges::replace(name, '_', '-');
      const auto page = std::ranges::find_if(project.pages, [&](const SetPage& p) {
        return p.path.substr(p.path.find('-') + 1) == name && p.path < "drawings/1";
      });
      REQUIRE(page != project.pages.end());
      const auto count = std::ranges::count(
          page->drawing.texts,
          "Heights are measured from the lower edge, " +
              length_text(made.lo.z, project.layout.project.show) + " above the load floor.",
          &InkText::text);
      CHECK(count == (made.lo.z > 0.5 ? 1 : 0));
      told += count > 0 ? 1 : 0;
    }
  }
  CHECK(told >= 4);
}

TEST_CASE("the seam between two pieces of a lining is placed", "[drawings][assembly][projects]") {
  const projects::Drawn& marsh = project("marsh/marsh.toml");
  const Drawing& d = page_named(marsh.pages, "070-left-lining");
  const Box one = bounds(*marsh.layout.find("left_lining/piece_1"));
  const Box other = bounds(*marsh.layout.find("left_lining/piece_2"));
  // Side by side along the van, seen from either end.
  const double lo = std::min(one.lo.x, other.lo.x);
  const double hi = std::max(one.hi.x, other.hi.x);
  const double before = std::min(one.hi.x, other.hi.x);
  const double behind = std::max(one.lo.x, other.lo.x);
  CHECK(behind - before < 10.0);
  CHECK(either(d, length_text(behind - lo, LengthStyle::millimetres),
               length_text(hi - before, LengthStyle::millimetres)));
}
