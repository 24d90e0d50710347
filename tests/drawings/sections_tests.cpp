#include "drawings/audit.hpp"
#include "drawings/drawings.hpp"
#include "drawings/sections.hpp"
#include "projects.hpp"
#include "shape/pieces.hpp"

#include <catch2/catch.hpp>

#include <numbers>
#include <set>

using namespace ribbay;

namespace {

Layout project(const std::string& file) {
  return testing::laid_out_file(RIBBAY_SOURCE_DIR "/params/" + file);
}

std::vector<std::size_t> parts_of(const Layout& layout, const std::string& module) {
  std::vector<std::size_t> parts;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (layout.parts[i].module == module) parts.push_back(i);
  }
  return parts;
}

double area_of(const Outlines& outlines) {
  double twice = 0.0;
  for (const auto& loop : outlines) {
    for (std::size_t i = 0; i < loop.size(); ++i)
      twice += cross(loop[i] - loop[0], loop[(i + 1) % loop.size()] - loop[0]);
  }
  return twice / 2.0;
}

/// Area in which a plane cuts the convex pieces of a part.
double area_by_pieces(const Part& part, const ViewFrame& view, double at) {
  double sum = 0.0;
  for (const ConvexPiece& one : pieces(*part.shape)) {
    const ConvexPiece piece = placed(one, part.frame);
    std::vector<Vec2> points;
    for (const auto& face : piece.faces) {
      for (std::size_t i = 0; i < face.size(); ++i) {
        const Vec3 a = piece.vertices[static_cast<std::size_t>(face[i])];
        const Vec3 b = piece.vertices[static_cast<std::size_t>(face[(i + 1) % face.size()])];
        const double ha = dot(view.towards_eye(), a) - at;
        const double hb = dot(view.towards_eye(), b) - at;
        if ((ha < 0.0) != (hb < 0.0))
          points.push_back(view.picture(a + (b - a) * (ha / (ha - hb))));
      }
    }
    if (points.size() < 3) continue;
    Vec2 middle;
    for (const Vec2 p : points) middle = middle + p;
    middle = middle * (1.0 / static_cast<double>(points.size()));
    std::ranges::sort(points, {},
                      [&](Vec2 p) { return std::atan2(p.y - middle.y, p.x - middle.x); });
    for (std::size_t i = 0; i < points.size(); ++i)
      sum += cross(points[i] - middle, points[(i + 1) % points.size()] - middle) / 2.0;
  }
  return sum;
}

double length_of(const std::vector<std::pair<Vec2, Vec2>>& lines) {
  double sum = 0.0;
  for (const auto& [a, b] : lines) sum += length(b - a);
  return sum;
}

}  // namespace

TEST_CASE("hatch lines times their spacing are the area, and lie inside", "[drawings][sections]") {
  const Outlines frame{{{0, 0}, {90, 0}, {90, 60}, {0, 60}},
                       {{10, 10}, {10, 50}, {60, 50}, {60, 10}}};
  const std::vector<std::vector<Vec2>> screw{{{70, 0}, {75, 0}, {75, 30}, {70, 30}}};
  for (const bool falling : {false, true}) {
    for (const double spacing : {1.5, 0.11}) {
      const HatchStyle style{falling, spacing};
      const auto lines = hatch(frame, {}, style);
      CHECK(length_of(lines) * spacing ==
            Approx(90.0 * 60 - 50 * 40).epsilon(0.01 * spacing + 1e-3));
      CHECK(length_of(hatch(frame, screw, style)) * spacing ==
            Approx(90.0 * 60 - 50 * 40 - 5 * 30).epsilon(0.02 * spacing + 1e-3));
      for (const auto& [a, b] : lines) {
        for (const double t : {0.001, 0.25, 0.5, 0.75, 0.999})
          CHECK(inside(frame, a + (b - a) * t));
        // 45 degrees, on the raster.
        CHECK(std::abs(b.y - a.y) == Approx(std::abs(b.x - a.x)));
        CHECK(((b.y > a.y) == (b.x > a.x)) != falling);
        const double k = cross(normalized(b - a), a) / spacing - 0.5;
        CHECK(std::abs(k - std::round(k)) < 1e-6);
      }
    }
  }
  CHECK(hatch({}, {}, {}).empty());
  // Two outlines that overlap count once: prisms of one body.
  const Outlines twice{{{0, 0}, {10, 0}, {10, 10}, {0, 10}}, {{5, 0}, {20, 0}, {20, 10}, {5, 10}}};
  CHECK(length_of(hatch(twice, {}, {false, 0.05})) * 0.05 == Approx(200.0).epsilon(0.005));
  CHECK(strip_width({{{0, 0}, {100, 0}, {100, 2}, {0, 2}}}) == Approx(2.0));
  CHECK(strip_width({{{0, 0}, {9, 0}, {9, 2}, {0, 2}}, {{20, 0}, {29, 0}, {29, 2}, {20, 2}}}) ==
        Approx(2.0));
  // A tube of 60 x 40 with walls of 3.
  CHECK(strip_width({{{0, 0}, {60, 0}, {60, 40}, {0, 40}}, {{3, 3}, {3, 37}, {57, 37}, {57, 3}}}) ==
        Approx(3.0).epsilon(0.02));
}

TEST_CASE("cut faces of the galley have the area of its boards, whatever is hidden is cut",
          "[drawings][sections]") {
  Layout layout = project("marsh/marsh.toml");
  // The pieces fill bores: leave them out.
  for (Part& part : layout.parts) {
    if (!is_made(part.kind)) continue;
    Shape shape = *part.shape;
    for (PlacedPrism& one : shape.prisms) one.prism.bores.clear();
    part.shape = std::make_shared<Shape>(std::move(shape));
  }
  const Module& galley = *layout.module("galley");
  const auto planes = section_planes(layout, galley);
  REQUIRE_FALSE(planes.empty());
  const auto parts = parts_of(layout, "galley");
  const auto styles = hatch_styles(layout, parts);
  std::set<std::string> cut;
  for (const SectionPlane& plane : planes) {
    CAPTURE(plane.letter);
    const double scale = 1.0;  // nothing is too small to be drawn
    const Section section = cut_open(layout, parts, styles, plane, scale);
    for (const CutFace& face : section.faces) {
      const Part& part = layout.parts[face.part];
      CAPTURE(part.id);
      cut.insert(part.id);
      CHECK(part.kind != PartKind::equipment);
      if (part.kind == PartKind::hardware) continue;
      const double wanted = area_by_pieces(part, plane.view, plane.at);
      CHECK(area_of(face.outlines) == Approx(wanted).epsilon(0.002).margin(2.0));
      CHECK(face.narrow == (strip_width(face.outlines) * scale < kNarrowFace));
      if (face.narrow) continue;
      const auto lines = hatch(face.outlines, {}, face.style);
      CHECK(length_of(lines) * face.style.spacing == Approx(wanted).epsilon(0.1));
      for (const auto& [a, b] : lines) CHECK(inside(face.outlines, (a + b) * 0.5));
    }
  }
  // A drawer's sides, back and bottom are seen from nowhere; the counter is.
  for (const char* id : {"galley/drawer.drawers_1.side.left", "galley/drawer.drawers_1.back",
                         "galley/drawer.drawers_1.bottom", "galley/stretcher.cupboard.rear"}) {
    CAPTURE(id);
    CHECK(cut.contains(id));
  }
}

TEST_CASE("parts that touch are hatched differently, one part alike in all sections",
          "[drawings][sections]") {
  const Layout layout = project("marsh/marsh.toml");
  const auto parts = parts_of(layout, "galley");
  const auto styles = hatch_styles(layout, parts);
  std::size_t alike = 0;
  std::size_t touching = 0;
  for (const Joint& joint : layout.joints) {
    for (const std::string& a : joint.parts) {
      for (const std::string& b : joint.parts) {
        const Part* one = layout.find(a);
        const Part* other = layout.find(b);
        if (one == nullptr || other == nullptr || one >= other || one->module != "galley" ||
            other->module != "galley" || !is_made(one->kind) || !is_made(other->kind) ||
            !near(bounds(*one), bounds(*other), 0.5))
          continue;
        ++touching;
        const HatchStyle& s = styles.at(static_cast<std::size_t>(one - layout.parts.data()));
        const HatchStyle& t = styles.at(static_cast<std::size_t>(other - layout.parts.data()));
        alike += s.falling == t.falling && s.spacing == t.spacing ? 1 : 0;
      }
    }
  }
  CHECK(touching > 10);
  CHECK(alike == 0);
}

TEST_CASE("a fastener in the plane is drawn whole and not hatched", "[drawings][sections]") {
  const Layout layout = project("marsh/marsh.toml");
  const auto parts = parts_of(layout, "galley");
  // A screw through the counter stands upright: a plane through it that looks aside.
  const auto screw = std::ranges::find_if(layout.parts, [](const Part& p) {
    return p.module == "galley" && p.kind == PartKind::hardware &&
           p.stock.key.starts_with("wood_") &&
           std::abs(p.frame.direction(p.shape->prisms.front().frame.z).z) > 0.99;
  });
  REQUIRE(screw != layout.parts.end());
  const SectionPlane plane{'A', {{0, -1, 0}, {0, 0, 1}}, -bounds(*screw).centre().x};
  REQUIRE(dot(plane.view.towards_eye(), Vec3{-1, 0, 0}) == 1.0);
  const Section section = cut_open(layout, parts, hatch_styles(layout, parts), plane, 0.5);
  REQUIRE_FALSE(section.spared.empty());
  for (const CutFace& face : section.faces) CHECK(layout.parts[face.part].id != screw->id);
  CHECK(std::ranges::find(section.part, static_cast<std::size_t>(screw - layout.parts.begin())) !=
        section.part.end());
  for (const CutFace& face : section.faces) {
    for (const auto& [a, b] : hatch(face.outlines, section.spared, face.style)) {
      for (const auto& hull : section.spared) CHECK_FALSE(inside({hull}, (a + b) * 0.5));
    }
  }
}

TEST_CASE("modules with an inside get sections, open ones none", "[drawings][sections]") {
  const Layout layout = project("marsh/marsh.toml");
  CHECK(section_planes(layout, *layout.module("ceiling")).empty());
  CHECK_FALSE(section_planes(layout, *layout.module("drip_tray")).empty());
  std::set<std::string> with;
  for (const SetPage& page : drawing_set(layout)) {
    if (page.path.find("-sections") == std::string::npos) continue;
    with.insert(page.path);
    for (const SectionPlane& plane : section_planes(layout, *layout.module("galley"))) {
      if (page.path.find("galley") == std::string::npos) continue;
      // The letter twice at its line, and once on each side of the section's title.
      const std::string letter(1, plane.letter);
      CHECK(std::ranges::count_if(page.drawing.texts, [&](const InkText& t) {
              return !t.border && t.text == letter;
            }) == 2);
      CHECK(std::ranges::count(page.drawing.texts, letter + "-" + letter, &InkText::text) == 1);
    }
  }
  CHECK(with.contains("drawings/052-galley-sections.svg"));
}

TEST_CASE(
    "sections stand beside the views where they find room, else on a page of their own, each once",
    "[drawings][sections]") {
  const Layout layout = project("marsh/marsh.toml");
  const auto pages = drawing_set(layout);
  std::size_t beside = 0;
  for (const Module& module : layout.modules) {
    CAPTURE(module.name);
    std::string name = module.name;
    std::ranges::replace(name, '_', '-');
    const auto planes = section_planes(layout, module);
    std::ptrdiff_t of_module = 0;
    std::ptrdiff_t on_own = 0;
    for (const SetPage& page : pages) {
      const std::string file = page.path.substr(page.path.find('-') + 1);
      const bool own = file == name + "-sections.svg";
      if (!own && file != name + ".svg") continue;
      const auto sections = std::ranges::count_if(page.drawing.texts, [](const InkText& t) {
        return t.text.starts_with("A-A") || t.text.starts_with("B-B") || t.text.starts_with("C-C");
      });
      of_module += sections;
      if (own) on_own += sections;
      if (!own && sections > 0) {
        ++beside;
        CHECK(audit(page.drawing).empty());
      }
    }
    CHECK(of_module == std::ssize(planes));
    CHECK((on_own == 0 || on_own == std::ssize(planes)));
  }
  CHECK(beside >= 3);
}

TEST_CASE("a detail tells how far one board sits in the other, and how thick it is",
          "[drawings][sections]") {
  Layout layout = project("marsh/marsh.toml");
  // Without its angles the partition's section has a sheet of its own, with room for all sizes.
  const auto of_angle = [](const auto& item) {
    return item.id.find("partition/") == 0 && item.id.find("floor_angle") != std::string::npos;
  };
  std::erase_if(layout.parts, of_angle);
  std::erase_if(layout.joints, of_angle);
  std::erase_if(layout.floor_bolts, of_angle);
  const auto pages = drawing_set(layout);
  const auto page_of = [&](const std::string& path) -> const Drawing& {
    const auto page = std::ranges::find(pages, path, &SetPage::path);
    REQUIRE(page != pages.end());
    return page->drawing;
  };
  const auto has = [](const Drawing& d, double size) {
    return std::ranges::count(d.dimensions, length_text(size, LengthStyle::millimetres),
                              &InkDimension::text) == 1;
  };
  // The two pieces of the partition lap: what their boxes share across the van.
  const Box one = bounds(*layout.find("partition/piece_1"));
  const Box other = bounds(*layout.find("partition/piece_2"));
  const double lap = std::min(one.hi.y, other.hi.y) - std::max(one.lo.y, other.lo.y);
  REQUIRE(lap > 5.0);
  const Drawing& partition = page_of("drawings/011-partition-sections.svg");
  CHECK(partition.format == "A4");
  CHECK(has(partition, lap));
  CHECK(has(partition, layout.find("partition/piece_1")->stock.thickness));
  // A panel in the slot of a rail, as deep as their boxes share.
  const auto panel = std::ranges::find_if(layout.joints, [&](const Joint& joint) {
    return joint.kind == "panel in slot" && joint.parts.front().starts_with("rack/");
  });
  REQUIRE(panel != layout.joints.end());
  const Drawing& rack = page_of("drawings/021-rack-sections.svg");
  bool told = false;
  for (const Joint& joint : layout.joints) {
    if (joint.kind != "panel in slot") continue;
    for (std::size_t i = 0; i + 1 < joint.parts.size(); ++i) {
      const Part* one_part = layout.find(joint.parts[i]);
      const Part* other_part = layout.find(joint.parts[i + 1]);
      if (one_part == nullptr || other_part == nullptr) continue;
      const Box a = bounds(*one_part);
      const Box b = bounds(*other_part);
      for (int axis = 0; axis < 3; ++axis) {
        const double common = std::min(a.hi[axis], b.hi[axis]) - std::max(a.lo[axis], b.lo[axis]);
        told = told || (common > 5.0 && common < 20.0 && has(rack, common));
      }
    }
  }
  CHECK(told);
}

TEST_CASE("details are bounded by their circle, larger than their section, and named by joint",
          "[drawings][sections]") {
  const Layout layout = project("marsh/marsh.toml");
  const auto pages = drawing_set(layout);
  const auto page = std::ranges::find_if(
      pages, [](const SetPage& p) { return p.path == "drawings/052-galley-sections.svg"; });
  REQUIRE(page != pages.end());
  const Drawing& d = page->drawing;
  std::set<std::string> kinds;
  for (const Joint& joint : layout.joints) kinds.insert(joint.kind);
  std::size_t details = 0;
  for (const InkArc& circle : d.arcs) {
    const double radius = length(circle.u);
    if (circle.view < 0 || std::abs(radius - 20.0) > 1e-9) continue;
    ++details;
    std::size_t inked = 0;
    std::size_t hatched = 0;
    for (const InkLine& l : d.lines) {
      if (l.view != circle.view) continue;
      ++inked;
      CHECK(length(l.a - circle.centre) <= radius + 1e-6);
      CHECK(length(l.b - circle.centre) <= radius + 1e-6);
      hatched += std::abs(std::abs(l.b.x - l.a.x) - std::abs(l.b.y - l.a.y)) < 1e-9 ? 1 : 0;
    }
    CHECK(inked > 10);
    CHECK(hatched > 5);
    // Its title lies under it: letter, scale, joint. The section is drawn at 1:5.
    const auto title = std::ranges::find_if(d.texts, [&](const InkText& t) {
      return std::abs(t.at.x - circle.centre.x) < 0.01 && t.at.y < circle.centre.y - radius &&
             t.at.y > circle.centre.y - radius - 10.0;
    });
    REQUIRE(title != d.texts.end());
    CAPTURE(title->text);
    CHECK(title->text.substr(1, 5) == " 1:1,");
    const std::string kind = title->text.substr(7);
    CHECK(kinds.contains(kind.substr(0, kind.find(", "))));
    // Its letter stands at a circle a fifth of the size in a section.
    const auto letter = std::ranges::find_if(
        d.texts, [&](const InkText& t) { return !t.border && t.text == title->text.substr(0, 1); });
    REQUIRE(letter != d.texts.end());
    CHECK(std::ranges::any_of(d.arcs, [&](const InkArc& mark) {
      return mark.view < 0 && std::abs(length(mark.u) - 4.0) < 1e-9 &&
             length(mark.centre - extent(*letter).centre()) < 12.0;
    }));
  }
  CHECK(details >= 1);
}
