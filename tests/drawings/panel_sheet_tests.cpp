// What a joiner must read off the sheet of a panel, compared with the part itself.
#include "drawings/audit.hpp"
#include "drawings/lettering.hpp"
#include "drawings/panel_study.hpp"
#include "drawings/tolerance_note.hpp"
#include "drawings/views.hpp"
#include "drawn_projects.hpp"
#include "samples.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace ribbay;

namespace {

/// A layout of one panel, lying in a module whose front looks to the right: its length lies on the
/// sheet.
Layout one_panel(std::vector<Cut> cuts, std::vector<Bore> bores, double length = 400,
                 double width = 300) {
  Layout layout;
  layout.project = {"Sample", "Sample van", "2026-11-24", "Test workshop", LengthStyle::millimetres,
                    true};
  layout.catalogue = samples::catalogue();
  layout.modules.push_back({"galley", "galley", "Galley", {}, "right", {}});
  layout.parts.push_back(samples::panel("galley/board", "Board", {500, 600, 0}, {1, 0, 0},
                                        {0, 1, 0}, length, width, std::move(cuts),
                                        std::move(bores)));
  samples::finish(layout);
  return layout;
}

Drawing sheet_of(const Layout& layout) {
  for (SetPage& page : drawing_set(layout)) {
    if (page.path.find("-p1-") != std::string::npos) return std::move(page.drawing);
  }
  FAIL("no sheet");
  return {};
}

bool says(const Drawing& d, const std::string& text) {
  return std::ranges::any_of(
      d.texts, [&](const InkText& t) { return t.text.find(text) != std::string::npos; });
}

}  // namespace

TEST_CASE("a plain board needs no more than an A4", "[drawings][panel]") {
  // 398.6 mm is 79.7 mm long at 1:5, the largest scale of ISO 5455 that an A4 has room for.
  const Drawing d = sheet_of(one_panel({}, {}, 398.6, 385));
  CHECK(d.format == "A4");
  CHECK(says(d, "1:5"));
}

TEST_CASE("a groove in an edge is told by its width, its depth and where it lies in the thickness",
          "[drawings][panel]") {
  // 3 mm wide and 6 deep, from 4 below the face of a board of 11.8.
  const Drawing d =
      sheet_of(one_panel({{rectangle({-1, -1}, {401, 6}), 4.8, 7.8, CutRole::groove}}, {}));
  CHECK(says(d, "Groove in the edge, 3 wide, 6 deep, 4 from face A"));
  CHECK(says(d, "Dashed within the board"));
  CHECK_FALSE(says(d, "Dashed: worked from face B"));
}

TEST_CASE("the recess for a screw's head is part of its hole", "[drawings][panel]") {
  std::vector<Bore> bores;
  for (const double x : {50.0, 350.0}) {
    bores.push_back(samples::drill({x, 40, 11.8}, {0, 0, -1}, 4.5, 11.8, BoreRole::screw, true));
    bores.push_back(samples::drill({x, 40, 11.8}, {0, 0, -1}, 8, 2.3, BoreRole::screw));
  }
  const Drawing few = sheet_of(one_panel({}, bores));
  CHECK(says(few, "2 × Ø4.5 through, countersunk Ø8"));
  CHECK_FALSE(says(few, "Ø8 ↧"));
  // In a table it has a column, and one name for both.
  for (int i = 0; i < 9; ++i)
    bores.push_back(samples::drill({60.0 + 17 * i * i * 0.2, 100.0 + 13 * i, 11.8}, {0, 0, -1}, 2,
                                   8, BoreRole::pilot));
  const Drawing many = sheet_of(one_panel({}, bores));
  CHECK(says(many, "Countersink"));
  CHECK(says(many, "A11"));
  CHECK_FALSE(says(many, "A12"));
}

TEST_CASE("corners too near each other for their names are drawn again, larger",
          "[drawings][panel]") {
  // A notch of 6 by 4 in each corner, mirrored: three corners each, 0.8 to 1.2 mm apart at 1:5. The
  // first may be larger, and so another shape.
  const auto notched = [](double first) {
    Loop loop;
    const auto add = [&](double x, double y) { loop.push_back({{x, y}, 0.0}); };
    add(0, first), add(6, first), add(6, 0), add(394, 0), add(394, 4), add(400, 4);
    add(400, 296), add(394, 296), add(394, 300), add(6, 300), add(6, 296), add(0, 296);
    Layout layout = one_panel({}, {});
    Shape shape = *layout.parts.front().shape;
    shape.prisms.front().prism.section.outer = loop;
    layout.parts.front().shape = std::make_shared<const Shape>(shape);
    return sheet_of(layout);
  };
  const auto count = [](const Drawing& d, const std::string& text) {
    return std::ranges::count(d.texts, text, &InkText::text);
  };
  const Drawing alike = notched(4);
  CHECK(says(alike, "D 5:1, C1 – C3, 3 more alike"));
  CHECK(count(alike, "D") >= 1);
  for (const char* name : {"C1", "C2", "C3"}) CHECK(count(alike, name) == 2);  // table and detail
  CHECK(audit(alike).empty());
  const Drawing unlike = notched(5);
  CHECK(says(unlike, "D 2:1, C1 – C3"));
  CHECK(says(unlike, "E 5:1, C4 – C6, 2 more alike"));
}

TEST_CASE("a head that goes in from behind is told so", "[drawings][panel]") {
  const Drawing d = sheet_of(
      one_panel({{rectangle({100, -1}, {112, 301}), 7.8, 12, CutRole::dado}},
                {samples::drill({106, 40, 11.8}, {0, 0, -1}, 4.5, 11.8, BoreRole::screw, true),
                 samples::drill({106, 40, 0}, {0, 0, 1}, 8, 2.3, BoreRole::screw)}));
  CHECK(says(d, "Ø4.5 through, countersunk Ø8, face B"));
  CHECK(says(d, "Holes of face B are drilled from behind"));
}

TEST_CASE("a blind hole that starts in a cut is as deep as said below the floor of the cut",
          "[drawings][panel]") {
  const char* note = "below the cut's floor";
  const std::vector<Cut> dado{{rectangle({100, -1}, {112, 301}), 7.8, 12, CutRole::dado}};
  const auto blind = [&](double z) {
    return says(sheet_of(one_panel(
                    dado, {samples::drill({106, 40, z}, {0, 0, -1}, 3, 5, BoreRole::pilot)})),
                note);
  };
  CHECK(blind(7.8));
  CHECK_FALSE(blind(11.8));
  CHECK_FALSE(says(sheet_of(one_panel(dado, {samples::drill({106, 40, 7.8}, {0, 0, -1}, 3, 7.8,
                                                            BoreRole::pilot, true)})),
                   note));
}

TEST_CASE("two bores on one axis are one hole with a mouth, when they serve one purpose",
          "[drawings][member]") {
  const Bore hole = samples::drill({10, 0, 50}, {0, -1, 0}, 4.5, 40, BoreRole::screw, true);
  const Bore head = samples::drill({10, -40, 50}, {0, 1, 0}, 9, 2.5, BoreRole::screw);
  const auto both = drillings({hole, head});
  REQUIRE(both.size() == 1);
  CHECK(hole_text(both.front(), LengthStyle::millimetres) == "Ø4.5 through, countersunk Ø9");
  // It is drilled from where the head goes in.
  CHECK(both.front().bore.at == head.at);
  CHECK(both.front().bore.direction == head.direction);
  Bore other = head;
  other.role = BoreRole::pilot;
  CHECK(drillings({hole, other}).size() == 2);
  other = head;
  other.at.z = 51;
  CHECK(drillings({hole, other}).size() == 2);
  // A blind hole has its mouth where it starts, and nowhere else.
  Bore blind = hole;
  blind.through = false;
  blind.depth = 20;
  CHECK(drillings({blind, head}).size() == 2);
  other = head;
  other.direction = blind.direction;
  CHECK(drillings({blind, other}).size() == 1);
}

TEST_CASE("the way that face A looks is said by the module's own sides and by the van's",
          "[drawings][panel]") {
  // The face of the part looks up (+z); from no front is that anything else.
  CHECK(says(sheet_of(one_panel({}, {})), "In the module it looks up."));
  // Standing, its face to the van's front (+x). The module looks to the van's left: who stands
  // before it sees the van's front at the left (ISO 8855: x forward, y left).
  Layout layout = one_panel({}, {});
  layout.modules.front().front = "left";
  layout.parts.front().frame = {{500, 600, 0}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}};
  CHECK(says(sheet_of(layout), "In the module it looks to the left, in the van to the front."));
  layout.parts.front().frame = {{500, 600, 0}, {-1, 0, 0}, {0, 0, 1}, {0, 1, 0}};
  CHECK(says(sheet_of(layout), "In the module it looks to the front, in the van to the left."));
}

TEST_CASE("a name is nearer to its hole than to any other, or has a leader", "[drawings][panel]") {
  Drawing d = new_page(PageSize::a4, {});
  const Vec2 own{100, 150};
  const Vec2 other{102.5, 152.5};
  REQUIRE(add_label(d, own, "A1", 2.5, 10.0, {own, other}));
  const Rect box = extent(d.texts.back());
  const auto off = [&](Vec2 p) {
    return std::hypot(std::max({box.lo.x - p.x, 0.0, p.x - box.hi.x}),
                      std::max({box.lo.y - p.y, 0.0, p.y - box.hi.y}));
  };
  CHECK(off(own) < off(other));
  // Holes all round leave no such place.
  std::vector<Vec2> ring;
  for (int i = 0; i < 24; ++i)
    ring.push_back(own + Vec2{std::cos(i * 0.2618), std::sin(i * 0.2618)} * 1.5);
  Drawing crowded = new_page(PageSize::a4, {});
  CHECK_FALSE(add_label(crowded, own, "A1", 2.5, 10.0, ring));
}

TEST_CASE("general tolerances are those of ISO 2768-1, table 1, class m", "[drawings][tolerance]") {
  // Size, permitted deviation: ISO 2768-1:1989, table 1, medium.
  const std::pair<double, double> rows[] = {{0.5, 0.1},   {3, 0.1},    {6, 0.1},    {6.1, 0.2},
                                            {30, 0.2},    {30.1, 0.3}, {120, 0.3},  {400, 0.5},
                                            {400.1, 0.8}, {1000, 0.8}, {2000, 1.2}, {4000, 2.0}};
  for (const auto& [size, off] : rows) {
    CAPTURE(size);
    CHECK(general_tolerance(size) == off);
  }
  CHECK(general_tolerance(0.4) == 0.0);
  CHECK(general_tolerance(4001) == 0.0);
}

TEST_CASE("sheets print the workshop's own tolerance where it is another",
          "[drawings][tolerance]") {
  Layout layout = one_panel({}, {});  // 400 long: 0.5 by ISO 2768-m
  layout.tolerances.saw = 0.5;
  CHECK_FALSE(says(sheet_of(layout), "Sawn sizes"));
  layout.tolerances.saw = 0.8;
  CHECK(says(sheet_of(layout), "Sawn sizes hold within ± 0.8 mm; ISO 2768-m would say ± 0.5 mm."));
  Layout rack = samples::rack();
  rack.tolerances.saw = 0.5;
  bool said = false;
  for (const SetPage& page : drawing_set(rack))
    said = said || (page.path.find("-m1-") != std::string::npos &&
                    says(page.drawing, "The length holds within ± 0.5 mm."));
  CHECK(said);
}

TEST_CASE("a panel is drawn as it stands, and with the front below where it lies",
          "[drawings][panel]") {
  // 400 long in x, 300 wide in y, a hole at 50, 40 from its corner at the right rear.
  const std::vector<Bore> hole{
      samples::drill({50, 40, 11.8}, {0, 0, -1}, 5, 11.8, BoreRole::bolt, true)};
  Layout layout = one_panel({}, hole);
  const auto seen = [&] {
    const PanelStudy study = study_panel(layout, layout.parts.front());
    REQUIRE(study.holes.size() == 1);
    return std::tuple(study.width(), study.height(), study.holes[0].at.x, study.holes[0].at.y);
  };
  using Seen = std::tuple<double, double, double, double>;
  const auto near = [](const Seen& a, const Seen& b) {
    return std::abs(std::get<0>(a) - std::get<0>(b)) < 1e-9 &&
           std::abs(std::get<1>(a) - std::get<1>(b)) < 1e-9 &&
           std::abs(std::get<2>(a) - std::get<2>(b)) < 1e-9 &&
           std::abs(std::get<3>(a) - std::get<3>(b)) < 1e-9;
  };
  // Lying: seen from above with the named side of the van below.
  layout.modules.front().front = "right";
  CHECK(near(seen(), {400, 300, 50, 40}));
  layout.modules.front().front = "left";
  CHECK(near(seen(), {400, 300, 350, 260}));
  layout.modules.front().front = "rear";  // the van's left is at the left
  CHECK(near(seen(), {300, 400, 260, 50}));
  layout.modules.front().front = "front";
  CHECK(near(seen(), {300, 400, 40, 350}));
  // Standing on its short edge, whatever the front: its length is up.
  layout.parts.front().frame = {{500, 600, 0}, {0, 0, 1}, {0, 1, 0}, {-1, 0, 0}};
  CHECK(near(seen(), {300, 400, 260, 50}));
  CHECK(study_panel(layout, layout.parts.front()).up == PanelUp::up);
  // Leaning by 45 degrees it stands no more than it lies.
  const double half = std::sqrt(0.5);
  layout.modules.front().front = "right";
  layout.parts.front().frame = {{500, 600, 0}, {1, 0, 0}, {0, half, half}, {0, -half, half}};
  CHECK(study_panel(layout, layout.parts.front()).up == PanelUp::length);
}

TEST_CASE("what lies askew is given corner by corner", "[drawings][panel]") {
  // A slot 60 long and 12 wide through the board, turned by the angle whose sine is 0.6.
  const Vec2 along{0.8, 0.6};
  const Vec2 across{-0.6, 0.8};
  const Vec2 at{150, 100};
  Loop slot;
  for (const Vec2 p :
       {at, at + along * 60.0, at + along * 60.0 + across * 12.0, at + across * 12.0})
    slot.push_back({p, 0.0});
  const Drawing d = sheet_of(one_panel({{slot, -1, 12.8, CutRole::notch}}, {}));
  CHECK(says(d, "Notch through, corners C1 to C4"));
  for (const char* value : {"150", "100", "198", "136", "190.8", "145.6", "142.8", "109.6"}) {
    CAPTURE(value);
    CHECK(std::ranges::any_of(d.texts, [&](const InkText& t) { return t.text == value; }));
  }
  CHECK(d.dimensions.size() == 3);  // outline and thickness
}

TEST_CASE(
    "a hole that is open at an edge keeps its centre, a corner that misses the board is no cut",
    "[drawings][panel]") {
  const Drawing open =
      sheet_of(one_panel({{circle({200, 10}, 80), -1, 12.8, CutRole::cut_out}}, {}));
  CHECK(says(open, "Cut-out Ø80 through"));
  CHECK(std::ranges::any_of(open.dimensions, [](const InkDimension& i) { return i.text == "10"; }));
  // A rounded opening of which only the corner's bounds reach into the board: (30 - 30 / sqrt 2) is
  // 8.8 mm, so its arc stays outside.
  const Drawing off =
      sheet_of(one_panel({{rectangle({-200, -200}, {8, 8}, 30), -1, 12.8, CutRole::cut_out}}, {}));
  CHECK_FALSE(says(off, "Cut-out"));
  CHECK(off.dimensions.size() == 3);
}

TEST_CASE("leaders with a dot end on wood", "[drawings][panel][projects]") {
  int dots = 0;
  for (const projects::Drawn& project : projects::all()) {
    for (const PartType& type : part_types(project.layout)) {
      const Part& part = project.layout.parts[type.parts.front()];
      if (part.kind == PartKind::member || part.flat) continue;
      const std::string what = "part drawing of " + type.mark + ", " + part.title;
      const auto page = std::ranges::find(project.pages, what, &SetPage::what);
      REQUIRE(page != project.pages.end());
      const Drawing& d = page->drawing;
      CAPTURE(project.file, page->path);
      // The maps of the face view, from its sizes.
      const auto map = [&](bool upright) -> const AxisMap* {
        const auto found = std::ranges::find_if(d.dimensions, [&](const InkDimension& i) {
          return i.view == 0 && i.upright == upright;
        });
        return found == d.dimensions.end() ? nullptr : &found->map;
      };
      const AxisMap* x = map(false);
      const AxisMap* y = map(true);
      if (!x || !y) continue;
      const PanelStudy seen = study_panel(project.layout, part);
      for (const InkFill& fill : d.fills) {
        if (fill.corners.size() != 12) continue;  // dots
        Vec2 middle;
        for (const Vec2 p : fill.corners) middle = middle + p * (1.0 / 12.0);
        if (!inside({middle, middle}, grown(d.views[0], -0.1))) continue;
        const Vec2 at{x->model(middle.x), y->model(middle.y)};
        ++dots;
        CAPTURE(at.x, at.y);
        for (const CutMark& cut : seen.cuts) {
          if (cut.through && !cut.round && cut.corners.empty() && cut.id.empty())
            CHECK_FALSE(inside({at, at}, grown(cut.area, -0.1)));
        }
      }
    }
  }
  CHECK(dots > 100);
}

TEST_CASE("what is bent is shown flat and bent", "[drawings][panel][projects]") {
  int sheets = 0;
  for (const projects::Drawn& project : projects::all()) {
    for (const PartType& type : part_types(project.layout)) {
      const Part& part = project.layout.parts[type.parts.front()];
      const std::string what = "part drawing of " + type.mark + ", " + part.title;
      const auto page = std::ranges::find(project.pages, what, &SetPage::what);
      REQUIRE(page != project.pages.end());
      CAPTURE(project.file, page->path);
      const bool bent = part.flat && !part.flat->bends.empty();
      CHECK(says(page->drawing, "Bent 1:") == bent);
      sheets += bent ? 1 : 0;
    }
  }
  CHECK(sheets > 10);
}

TEST_CASE("a name keeps off other ink where it can", "[drawings][views]") {
  Drawing d = new_page(PageSize::a4, {});
  const Vec2 at{100, 150};
  // A line 2 mm above leaves a crowded place right above, and airy ones beside.
  add_line(d, at + Vec2{-20, 4.6}, at + Vec2{20, 4.6}, kGroup50.thin());
  REQUIRE(add_label(d, at, "A1", 2.5, 10.0));
  const Rect box = extent(d.texts.back());
  CHECK(at.y + 4.6 - box.hi.y >= 1.5);
  CHECK(length(box.centre() - at) < 8.0);
}

TEST_CASE("a leader rather goes round another than across it", "[drawings][views]") {
  Drawing d = new_page(PageSize::a4, {});
  const Vec2 at{100, 150};
  // Leaders on three sides; only upwards is free.
  add_line(d, at + Vec2{-5, -30}, at + Vec2{-5, 4}, kGroup50.thin());
  add_line(d, at + Vec2{5, -30}, at + Vec2{5, 4}, kGroup50.thin());
  add_line(d, at + Vec2{-5, -5}, at + Vec2{5, -5}, kGroup50.thin());
  const std::size_t before = d.lines.size();
  REQUIRE(add_callout(d, at, "Groove, 4 deep", 2.5, kGroup50.thin(), {}, true));
  for (std::size_t i = before; i < d.lines.size(); ++i) {
    for (std::size_t k = 0; k < before; ++k) {
      const InkLine& a = d.lines[i];
      const InkLine& b = d.lines[k];
      if (b.view >= 0 || !inside({b.a, b.b}, grown({at, at}, 40.0))) continue;
      const auto side = [](Vec2 p, Vec2 q, Vec2 r) { return cross(q - p, r - p); };
      CHECK_FALSE((side(a.a, a.b, b.a) * side(a.a, a.b, b.b) < 0.0 &&
                   side(b.a, b.b, a.a) * side(b.a, b.b, a.b) < 0.0));
    }
  }
}
