// What a reader may rely on, asked of every drawing of every project that comes with the program:
// recomputed here from the layout and from the ink, not by the code that drew it.
#include "drawings/audit.hpp"
#include "drawings/lettering.hpp"
#include "drawings/words.hpp"
#include "drawn_projects.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <map>
#include <set>

using namespace ribbay;

namespace {

constexpr double kPrintedPlace = 0.0501;  // half of the last place of a size in mm

bool one_of(double value, std::initializer_list<double> series) {
  return std::ranges::any_of(series, [&](double s) { return std::abs(s - value) < 1e-9; });
}

/// All lengths that a page prints, as sizes and in tables, and the pitches of its rows of holes.
struct Printed {
  std::vector<double> lengths;
  std::vector<double> pitches;
};

Printed printed_on(const Drawing& drawing, LengthStyle show) {
  Printed out;
  for (const InkText& t : drawing.texts) {
    if (const double value = printed_length(t.text, show); !std::isnan(value))
      out.lengths.push_back(value);
    // "84.9 up", "84.9 up, to 845.1".
    const std::string steps = t.text.substr(0, t.text.find(", to "));
    for (const std::string way : {" up", " right", " down", " left"}) {
      if (!steps.ends_with(way)) continue;
      const double pitch = printed_length(steps.substr(0, steps.size() - way.size()), show);
      if (!std::isnan(pitch)) out.pitches.push_back(pitch);
    }
  }
  return out;
}

/// True when the page says where `at` is: a size or a table's field from either end of the part, or
/// a row of holes that comes by in whole pitches.
bool is_told(const Printed& printed, double at, double lo, double hi) {
  for (const double from : {at - lo, hi - at}) {
    for (const double p : printed.lengths) {
      if (std::abs(p - from) < kPrintedPlace) return true;
      for (const double pitch : printed.pitches) {
        const double steps = std::round((from - p) / pitch);
        if (steps >= 1.0 && steps < 60.0 &&
            std::abs(p + steps * pitch - from) < kPrintedPlace * (steps + 1.0))
          return true;
      }
    }
  }
  return false;
}

const SetPage* page_of(const projects::Drawn& project, const PartType& type) {
  const std::string what =
      "part drawing of " + type.mark + ", " + project.layout.parts[type.parts.front()].title;
  const auto found = std::ranges::find(project.pages, what, &SetPage::what);
  return found == project.pages.end() ? nullptr : &*found;
}

/// The bores of a part in its own axes.
std::vector<Bore> bores_of(const Part& part) {
  std::vector<Bore> bores;
  for (const PlacedPrism& p : part.shape->prisms) {
    for (Bore bore : p.prism.bores) {
      bore.at = p.frame.point(bore.at);
      bore.direction = p.frame.direction(bore.direction);
      bores.push_back(bore);
    }
  }
  return bores;
}

}  // namespace

TEST_CASE("every hole of every made part is located on its drawing",
          "[drawings][audit][projects]") {
  int holes = 0;
  for (const projects::Drawn& project : projects::all()) {
    CAPTURE(project.file);
    for (const PartType& type : part_types(project.layout)) {
      const Part& part = project.layout.parts[type.parts.front()];
      if (part.flat) continue;  // of what is bent the blank is drawn
      const SetPage* page = page_of(project, type);
      REQUIRE(page != nullptr);
      CAPTURE(page->path);
      const Printed printed = printed_on(page->drawing, project.layout.project.show);
      const Box box = bounds(*part.shape);
      const Vec3 middle = box.centre();
      for (const Bore& bore : bores_of(part)) {
        ++holes;
        CAPTURE(bore.at.x, bore.at.y, bore.at.z, bore.diameter);
        const bool member = part.kind == PartKind::member;
        // In a member's end the hole stands in the profile's own core, or is not located by a size.
        if (member && std::abs(bore.direction.z) > 0.7) continue;
        if (std::abs(bore.direction.x) < 0.7 && !(member && std::abs(bore.at.x - middle.x) < 0.01))
          CHECK(is_told(printed, bore.at.x, box.lo.x, box.hi.x));
        if (std::abs(bore.direction.y) < 0.7 && !(member && std::abs(bore.at.y - middle.y) < 0.01))
          CHECK(is_told(printed, bore.at.y, box.lo.y, box.hi.y));
        if (member) CHECK(is_told(printed, bore.at.z, box.lo.z, box.hi.z));
      }
    }
  }
  CHECK(holes > 1000);
}

TEST_CASE("no size is given twice in one view", "[drawings][audit][projects]") {
  int sizes = 0;
  for (const projects::Drawn& project : projects::all()) {
    for (const SetPage& page : project.pages) {
      CAPTURE(project.file, page.path);
      // By view and axis: the two ends, in hundredths.
      std::set<std::array<long, 4>> seen;
      for (const InkDimension& d : page.drawing.dimensions) {
        ++sizes;
        const long a = std::lround(d.map.model(d.from) * 100);
        const long b = std::lround(d.map.model(d.to) * 100);
        CAPTURE(d.text);
        CHECK(seen.insert({d.view, d.upright ? 1 : 0, std::min(a, b), std::max(a, b)}).second);
      }
    }
  }
  CHECK(sizes > 1000);
}

namespace {

/// A groove askew is given by its bounds, whose corners another cut may have taken away.
bool has_groove_askew(const Part& part) {
  for (const PlacedPrism& p : part.shape->prisms) {
    for (const Cut& cut : p.prism.cuts) {
      if (cut.role != CutRole::groove) continue;
      for (std::size_t i = 0; i < cut.outline.size(); ++i) {
        const Vec2 d = cut.outline[(i + 1) % cut.outline.size()].at - cut.outline[i].at;
        if (std::min(std::abs(d.x), std::abs(d.y)) > 0.01) return true;
      }
    }
  }
  return false;
}

}  // namespace

TEST_CASE("sizes of part drawings end on what they measure", "[drawings][audit][projects]") {
  int ends = 0;
  int askew = 0;
  for (const projects::Drawn& project : projects::all()) {
    for (const PartType& type : part_types(project.layout)) {
      if (has_groove_askew(project.layout.parts[type.parts.front()])) {
        ++askew;
        continue;
      }
      const SetPage* drawn = page_of(project, type);
      REQUIRE(drawn != nullptr);
      const SetPage& page = *drawn;
      CAPTURE(project.file, page.path);
      // Where the ink of each view begins, ends or turns, along both axes.
      std::map<std::pair<int, bool>, std::vector<double>> places;
      const auto add = [&](int view, Vec2 p) {
        places[{view, false}].push_back(p.x);
        places[{view, true}].push_back(p.y);
      };
      for (const InkLine& l : page.drawing.lines) {
        if (l.view >= 0) {
          add(l.view, l.a);
          add(l.view, l.b);
          continue;
        }
        // The cross at the middle of a hole, which may be too small to be drawn; the axis of one in
        // an edge begins 1.5 mm before the hole does.
        for (const Vec2 p : {(l.a + l.b) * 0.5, l.a + normalized(l.b - l.a) * 1.5}) {
          for (std::size_t v = 0; v < page.drawing.views.size(); ++v) {
            if (inside({p, p}, grown(page.drawing.views[v], 0.01))) add(static_cast<int>(v), p);
          }
        }
      }
      for (const InkArc& arc : page.drawing.arcs) {
        if (arc.view < 0) continue;
        add(arc.view, arc.centre);
        for (int quarter = 0; quarter < 4; ++quarter)
          add(arc.view, arc.point(std::atan2(arc.v.x, arc.u.x) + quarter * std::acos(0.0)));
      }
      for (const InkDimension& d : page.drawing.dimensions) {
        CAPTURE(d.text, d.from, d.to);
        REQUIRE(d.view >= 0);
        for (const double end : {d.from, d.to}) {
          ++ends;
          CHECK(std::ranges::any_of(places[{d.view, d.upright}],
                                    [&](double p) { return std::abs(p - end) < 0.02; }));
        }
      }
    }
  }
  CHECK(ends > 1000);
  CHECK(askew < 8);
}

TEST_CASE("lines and letters have the widths of the series", "[drawings][audit][projects]") {
  // ISO 128-2: 0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1, 1.4, 2 mm, steps of the square root of two;
  // heights of letters in the same steps, ISO 3098-1 (both from memory).
  for (const projects::Drawn& project : projects::all()) {
    for (const SetPage& page : project.pages) {
      CAPTURE(project.file, page.path);
      std::set<double> widths;
      for (const InkLine& l : page.drawing.lines) widths.insert(l.pen.width);
      for (const InkArc& a : page.drawing.arcs) widths.insert(a.pen.width);
      for (const double width : widths) {
        CAPTURE(width);
        CHECK(one_of(width, {0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0, 1.4, 2.0}));
      }
      for (const InkText& t : page.drawing.texts) {
        CAPTURE(t.text, t.height);
        CHECK(one_of(t.height, {1.8, 2.5, 3.5, 5.0, 7.0, 10.0}));
      }
    }
  }
}

TEST_CASE("every file is valid, its words can be found and its letters are strokes",
          "[drawings][render][projects]") {
  // The document type of SVG 1.1, second edition, as Debian's w3c-sgml-lib carries it.
  const std::string type = "/usr/share/xml/w3c-sgml-lib/schema/dtd/REC-SVG11-20110816/svg11.dtd";
  REQUIRE(std::filesystem::exists(type));
  const TemporaryFolder folder;
  int files = 0;
  for (const projects::Drawn& project : projects::all()) {
    for (const SetPage& page : project.pages) {
      CAPTURE(project.file, page.path);
      const std::string file = svg(page.drawing);
      std::ofstream(folder.path() / (std::to_string(++files) + ".svg"), std::ios::binary) << file;
      // All words stand in the group that is not painted, one for each text of the drawing.
      const std::size_t group = file.find("<g fill-opacity=\"0\"");
      const std::size_t end = file.find("</g>", group);
      REQUIRE(end != std::string::npos);
      std::size_t words = 0;
      for (std::size_t at = file.find("<text"); at != std::string::npos;
           at = file.find("<text", at + 1)) {
        ++words;
        if (at < group || at > end) FAIL_CHECK("a painted text: " << file.substr(at, 120));
      }
      CHECK(words == page.drawing.texts.size());
      for (const InkText& t : page.drawing.texts) {
        CAPTURE(t.text);
        CHECK_FALSE(text_strokes(t.text, t.height).empty());
      }
      CHECK(file == svg(page.drawing));
    }
  }
  CHECK(files > 200);
  CHECK(std::system(("xmllint --nonet --noout --dtdvalid " + type + " '" + folder.path().string() +
                     "'/*.svg 2>'" + (folder.path() / "faults.txt").string() + "'")
                        .c_str()) == 0);
  // The check sees what is wrong.
  std::ofstream(folder.path() / "planted.xml")
      << "<svg xmlns=\"http://www.w3.org/2000/svg\"><path d=\"M0 0\" data-part=\"a\"/></svg>";
  CHECK(std::system(("xmllint --nonet --noout --dtdvalid " + type + " '" +
                     (folder.path() / "planted.xml").string() + "' 2>/dev/null")
                        .c_str()) != 0);
}

TEST_CASE("holes through the floor are told with their drill", "[drawings][projects]") {
  int holes = 0;
  for (const projects::Drawn& project : projects::all()) {
    const auto page = std::ranges::find(project.pages, "drawings/002-floor.svg", &SetPage::path);
    if (page == project.pages.end()) continue;
    CAPTURE(project.file);
    std::multiset<std::string> drills;
    for (const InkText& t : page->drawing.texts) {
      if (t.text.find(" through deck") != std::string::npos ||
          t.text.find(" pilot, ") != std::string::npos)
        drills.insert(t.text.substr(0, t.text.find(' ')));
    }
    std::multiset<std::string> wanted;
    for (const FloorBolt& hole : project.layout.floor_bolts) {
      ++holes;
      const Part* part = project.layout.find(hole.id);
      REQUIRE(part != nullptr);
      double diameter = hole.diameter;
      if (!hole.pipe) {
        const Bolt& bolt = project.layout.catalogue->bolts.find(part->stock.key)->second;
        diameter = bolt.kind == BoltKind::wood ? bolt.pilot_hole : bolt.clearance_hole;
        CHECK(diameter != hole.diameter);
      }
      wanted.insert("Ø" + length_text(diameter, project.layout.project.show));
    }
    CHECK(drills == wanted);
  }
  CHECK(holes >= 6);
}

TEST_CASE("every screw into a rib or a bow has its hole on the walls' drilling plan",
          "[drawings][projects]") {
  int holes = 0;
  std::size_t depths = 0;
  for (const projects::Drawn& project : projects::all()) {
    const Layout& layout = project.layout;
    CAPTURE(project.file);
    // Where each comes to an end, in tenths as printed: along the van, and up or across.
    std::multiset<std::pair<std::string, std::string>> wanted;
    std::multiset<std::string> pilots;
    for (const Part& part : layout.parts) {
      if (part.kind != PartKind::hardware || !layout.catalogue->bolts.contains(part.stock.key))
        continue;
      const auto in = [&](const char* what) {
        return std::ranges::any_of(part.hosts,
                                   [&](const std::string& host) { return host.starts_with(what); });
      };
      const bool bow = in("vehicle/bow.");
      if (!bow && !in("vehicle/rib.")) continue;
      const double length = layout.catalogue->bolts.find(part.stock.key)->second.length;
      const Vec3 tip = part.frame.point({0, 0, length});
      const auto show = [&](double mm) { return length_text(mm, layout.project.show); };
      wanted.insert({show(tip.x), show(bow ? std::abs(tip.y) : tip.z)});
      ++holes;
      // A wood screw through boards alone goes into the rib by what they leave of it.
      const Bolt& bolt = layout.catalogue->bolts.find(part.stock.key)->second;
      if (bolt.kind != BoltKind::wood) continue;
      double deep = length;
      bool boards = true;
      for (const std::string& host : part.hosts) {
        const Part* board = layout.find(host);
        if (board == nullptr) continue;
        boards = boards && board->kind == PartKind::panel;
        deep -= board->stock.thickness;
      }
      if (boards) pilots.insert("Ø" + show(bolt.pilot_hole) + " pilot, " + show(deep) + " deep");
    }
    const auto page = std::ranges::find(project.pages, "drawings/004-walls.svg", &SetPage::path);
    REQUIRE((page != project.pages.end()) == !wanted.empty());
    if (wanted.empty()) continue;
    const Drawing& d = page->drawing;
    std::multiset<std::string> told_pilots;
    for (const InkText& t : d.texts) {
      if (t.text.find(" pilot, ") != std::string::npos) told_pilots.insert(t.text);
    }
    CHECK(std::ranges::includes(told_pilots, pilots));
    depths += pilots.size();
    std::multiset<std::pair<std::string, std::string>> told;
    for (std::size_t i = 1; i <= wanted.size(); ++i) {
      const std::string name = "W" + std::to_string(i);
      CAPTURE(name);
      CHECK(std::ranges::count(d.texts, name, &InkText::text) == 2);  // in a view and in the table
      // The table's row: texts on one line, in order; X is the third of them.
      for (std::size_t t = 0; t + 3 < d.texts.size(); ++t) {
        const std::string& side = d.texts[t + 1].text;
        if (side != "left" && side != "right" && side != "roof") continue;
        if (d.texts[t].text != name || std::abs(d.texts[t].at.y - d.texts[t + 3].at.y) > 0.7)
          continue;
        std::string second = d.texts[t + 3].text;
        second = second.substr(0, second.find(' '));
        told.insert({d.texts[t + 2].text, second});
      }
    }
    CHECK(told == wanted);
  }
  CHECK(holes > 20);
  CHECK(depths > 10);
}

TEST_CASE("the plan tells where each module begins and ends", "[drawings][projects]") {
  for (const projects::Drawn& project : projects::all()) {
    const auto page = std::ranges::find(project.pages, "drawings/001-plan.svg", &SetPage::path);
    REQUIRE(page != project.pages.end());
    CAPTURE(project.file);
    const auto show = [&](double mm) { return length_text(mm, project.layout.project.show); };
    for (const Module& m : project.layout.modules) {
      CAPTURE(m.name);
      const auto has = [&](const std::string& text) {
        return std::ranges::any_of(page->drawing.texts,
                                   [&](const InkText& t) { return t.text == text; });
      };
      Box box;
      Box held;
      for (const Part& part : project.layout.parts) {
        if (part.module != m.name || part.kind == PartKind::hardware) continue;
        (part.kind == PartKind::equipment ? held : box).add(bounds(part));
      }
      if (box.empty()) box = held;
      CHECK(has(show(box.lo.x)));
      CHECK(has(show(box.hi.x)));
      CHECK(has(show(box.hi.z)));
      for (const double y : {box.lo.y, box.hi.y}) {
        if (std::abs(y) > 0.06) CHECK(has(show(std::abs(y)) + (y > 0.0 ? " left" : " right")));
      }
    }
  }
}

TEST_CASE("the sides of the van tell its ribs and its gaps", "[drawings][projects]") {
  for (const projects::Drawn& project : projects::all()) {
    if (!project.layout.vehicle) continue;
    const auto page = std::ranges::find(project.pages, "drawings/003-sides.svg", &SetPage::path);
    REQUIRE(page != project.pages.end());
    CAPTURE(project.file);
    const Drawing& d = page->drawing;
    const auto count = [&](const std::string& text) {
      return std::ranges::count(d.texts, text, &InkText::text);
    };
    const auto gaps = projects::some_gaps(project.layout);
    for (std::size_t i = 0; i < gaps.size(); ++i) {
      CAPTURE(i);
      CHECK(count("G" + std::to_string(i + 1)) == 2);  // on a view and in the table
    }
    CHECK(count("-0.4") == std::ranges::count(gaps, -0.4, &CalledGap::least));
    // Each rib by its middle, from the rear edge, in the view of its side: 0 left, 1 right.
    for (const Rib& rib : project.layout.vehicle->ribs) {
      CAPTURE(rib.name);
      const int view = rib.side == VanSide::left ? 0 : 1;
      CHECK(std::ranges::any_of(d.dimensions, [&](const InkDimension& i) {
        return i.view == view && !i.upright &&
               i.text == length_text(rib.x, project.layout.project.show);
      }));
    }
    for (const Module& m : project.layout.modules) {
      CAPTURE(m.name);
      CHECK(count(m.title.empty() ? m.name : m.title) >= 1);
    }
  }
}
