#include "faults.hpp"

#include "assembly/assembly.hpp"
#include "clearance/clearance.hpp"
#include "judgement/judgement.hpp"
#include "scanned_van.hpp"
#include "scenes.hpp"
#include "small_project.hpp"
#include "structure/fixings.hpp"
#include "structure/materials.hpp"
#include "structure/supports.hpp"
#include "structure/ties.hpp"

#include <numbers>

namespace ribbay::planted {

using scenes::box_part;
using scenes::layout_of;

namespace {

constexpr double kQuarter = std::numbers::pi / 2;

Motion motion(std::string id, MotionKind kind, std::string part, Vec3 axis, Vec3 origin,
              double travel) {
  Motion made;
  made.id = std::move(id);
  made.kind = kind;
  made.parts = {std::move(part)};
  made.axis = axis;
  made.origin = origin;
  made.travel = made.required = travel;
  return made;
}

Part& part_of(Layout& layout, const std::string& id) {
  return *std::ranges::find(layout.parts, id, &Part::id);
}

/// Two boards, a drawer and a door: sound as it stands.
Layout boards_and_doors() {
  Layout layout = layout_of({box_part("a/board", {0, 0, 0}, {400, 300, 18}),
                             box_part("b/board", {0, 0, 100}, {400, 300, 118}),
                             box_part("c/front", {600, 0, 0}, {618, 300, 200}),
                             box_part("d/leaf", {1200, 0, 0}, {1218, 400, 200})});
  layout.motions = {
      motion("c/drawer", MotionKind::translation, "c/front", {1, 0, 0}, {}, 150),
      motion("d/door", MotionKind::rotation, "d/leaf", {0, 0, 1}, {1200, 0, 0}, kQuarter)};
  layout.tight = 3.0;
  layout.tolerances.fitting = 1.0;
  return layout;
}

/// The free edge of the door above turns at 400.4 mm about its axis; this corner stands at 401.6.
Part post_beside_way() { return box_part("e/post", {880, 284, 0}, {916, 320, 50}); }

/// A door that turns by 110 degrees, and a drawer behind it, which comes out when the door is open.
Layout drawer_behind_door() {
  Layout layout = layout_of({box_part("a/leaf", {0, -18, 0}, {500, 0, 600}),
                             box_part("b/front", {25, 2, 100}, {475, 20, 500})});
  layout.motions = {motion("a/door", MotionKind::rotation, "a/leaf", {0, 0, -1}, {0, -18, 0},
                           110 * std::numbers::pi / 180),
                    motion("b/drawer", MotionKind::translation, "b/front", {0, -1, 0}, {}, 400)};
  layout.motions[1].after = "a/door";
  return layout;
}

/// A post in the way of that door's free end, out of the drawer's.
Part post_before_door() {
  return box_part("c/post", {240, -460, 560}, {260, -440, 600});
}

Zone zone_at(Vec3 lo, Vec3 size) {
  Zone zone;
  zone.id = "a/zone";
  zone.shape = box_shape({}, size);
  zone.frame.origin = lo;
  zone.owner = "a";
  return zone;
}

std::shared_ptr<const Catalogue> stock() {
  static const auto catalogue = testing::lay_out_text("").value->catalogue;
  return catalogue;
}

/// A board on the floor of a van whose survey may be wrong by 2 mm, off its wall by 5 mm.
Layout bar_at_wall() {
  auto van = std::make_shared<Vehicle>(*scenes::plain_van());
  for (Station& station : van->stations) {
    station.uncertainty = 2.0;
    for (auto* wall : {&station.left, &station.right})
      for (WallPoint& point : *wall) point.uncertainty = 2.0;
  }
  Part bar = box_part("a/bar", {1000, 855, 0}, {1600, 895, 40});
  bar.kind = PartKind::member;
  Layout layout = layout_of({bar});
  layout.vehicle = van;
  return layout;
}

/// A battery of 34 kg over a joist.
Layout battery_over_joist() {
  auto van = std::make_shared<Vehicle>(*scenes::plain_van());
  van->joists = {{"a", true, 1000, 60, -500, 500}, {"b", true, 1400, 60, -500, 500}};
  Part battery = box_part("a/battery", {900, -200, 0}, {1100, 200, 250});
  battery.kind = PartKind::equipment;
  battery.mass_kg = 34;
  Layout layout = layout_of({battery});
  layout.vehicle = van;
  layout.modules = {
      {.name = "a", .kind = "custom", .title = "A", .envelope = {}, .front = "rear", .place = {}}};
  return layout;
}

/// Two boards of aluminium, one on the other, screwed.
Layout two_of_aluminium() {
  Layout layout = layout_of({box_part("a/low", {0, 0, 0}, {1000, 200, 20}),
                             box_part("a/top", {0, 0, 20}, {1000, 200, 40})});
  for (Part& part : layout.parts) part.material = "aluminium";
  layout.joints.push_back({"a/joint", "screwed", {"a/low", "a/top"}, {}});
  layout.catalogue = stock();
  return layout;
}

/// Part and top with a wood screw of 30 mm through them; `roofed`: the top is a box with a roof
/// that hides the screw.
Layout screwed(double low_thick, bool roofed = false) {
  auto catalogue = std::make_shared<Catalogue>();
  Bolt& screw = catalogue->bolts["wood"];
  screw.key = "wood";
  screw.kind = BoltKind::wood;
  screw.diameter = 4;
  screw.length = 30;
  screw.head_diameter = 8;
  screw.head_height = 3;
  Part low = box_part("a/low", {0, 0, -low_thick}, {400, 300, 0});
  Part top = box_part("a/top", {0, 0, 0}, {400, 300, 12});
  if (roofed) {
    Shape box = *top.shape;
    for (const Shape& more :
         {box_shape({0, 0, 32}, {400, 300, 44}), box_shape({0, 0, 12}, {400, 12, 32})})
      box.prisms.push_back(more.prisms.front());
    top.shape = std::make_shared<const Shape>(std::move(box));
  }
  Part part = scenes::part("a/screw", Shape{{cylinder(4, 30), cylinder(8, 3, Frame{{0, 0, -3}})}},
                           frame_zx({200, 150, 12}, {0, 0, -1}, {1, 0, 0}));
  part.kind = PartKind::hardware;
  part.stock.key = "wood";
  part.hosts = {"a/top", "a/low"};
  Layout layout = layout_of({low, top, part});
  layout.catalogue = catalogue;
  layout.modules = {
      {.name = "a", .kind = "custom", .title = "A", .envelope = {}, .front = "rear", .place = {}}};
  return layout;
}

/// A tube along x with a core in it that comes out at its ends.
Layout tube_and_core() {
  const auto boxes = [](const std::string& id, const std::vector<Box>& all) {
    Shape shape;
    for (const Box& box : all) shape.prisms.push_back(box_shape(box.lo, box.hi).prisms.front());
    return scenes::part(id, std::move(shape));
  };
  Layout layout = layout_of(
      {boxes("m/core", {{{10, 10.5, 10.5}, {90, 45, 89.5}},
                        {{10, 55, 10.5}, {90, 89.5, 89.5}},
                        {{10, 45, 10.5}, {90, 55, 45}},
                        {{10, 45, 55}, {90, 55, 89.5}}}),
       boxes("m/plug", {{{-20, -10, -10}, {-0.5, 110, 110}}, {{-0.5, 46, 46}, {100.5, 54, 54}}}),
       boxes("m/tube", {{{0, 0, 0}, {100, 10, 100}},
                        {{0, 90, 0}, {100, 100, 100}},
                        {{0, 10, 0}, {100, 90, 10}},
                        {{0, 10, 90}, {100, 90, 100}}})});
  layout.catalogue = std::make_shared<Catalogue>();
  layout.modules = {
      {.name = "m", .kind = "custom", .title = "M", .envelope = {}, .front = "rear", .place = {}}};
  return layout;
}

/// Two bars of 40 mm across, side by side with 20 mm between them.
Layout two_posts() {
  return layout_of({scenes::part("a/tank", Shape{{cylinder(40, 300)}}),
                    scenes::part("b/tank", Shape{{cylinder(40, 300)}}, Frame{{60, 0, 0}})});
}

Layout scanned(double bulge, double noise) {
  Layout layout = layout_of({box_part("a/back", {1200, -900, 0}, {1800, -882, 880})});
  layout.vehicle = scenes::scanned_van(bulge, noise, 3.0);
  return layout;
}

void add_film(Part& part, const Box& with_it) {
  part.finished = std::make_shared<const Shape>(box_shape(with_it.lo, with_it.hi));
  part.coverings.push_back({.finish = "felt", .face = true, .thickness = 2});
}

void bolt_through(Layout& layout, double x) {
  Part bolt = scenes::part("a/bolt_" + std::to_string(layout.parts.size()),
                           box_shape({}, {6, 6, 40}), Frame{{x, 100, 0}});
  bolt.kind = PartKind::hardware;
  bolt.stock.key = "m6_40";
  bolt.hosts = {"a/low", "a/top"};
  layout.parts.push_back(bolt);
}

void empty_van(Layout& layout) {
  layout.vehicle = scenes::plain_van();
}

std::vector<Fault> static_faults() {
  const auto sound = boards_and_doors;
  return {
      {"clearance.clash", sound, [](Layout& l) { part_of(l, "b/board").frame.origin.z = -82.02; }},
      {"clearance.caught", sound,
       [](Layout& l) {
         l.parts.push_back(box_part("e/low", {0, 0, 10}, {400, 300, 60}));
         l.parts.push_back(box_part("e/stop", {0, -20, 20}, {400, 5, 50}));
         l.parts.push_back(box_part("e/top", {0, 298, 20}, {400, 330, 50}));
       }},
      {"clearance.tight", sound, [](Layout& l) { part_of(l, "b/board").frame.origin.z = -80; }},
      {"clearance.gap", sound,
       [](Layout& l) {
         l.gaps.push_back({"a/gap", "a", "b", 82.5, {}});
       }},
      {"clearance.zone", sound,
       [](Layout& l) {
         l.zones.push_back(zone_at({0, 0, 50}, {100, 100, 51}));
       }},
      {"clearance.modules", sound,
       [](Layout& l) {
         for (const double at : {0.0, 200.0}) {
           const std::string n = at == 0.0 ? "1" : "2";
           l.parts.push_back(box_part("e/" + n, {0, 500 + at, 0}, {400, 540 + at, 40}));
           l.parts.push_back(box_part("f/" + n, {50 + at, 480, 30}, {90 + at, 780, 70}));
         }
       }},
      {"clearance.finish", sound,
       [](Layout& l) {
         part_of(l, "b/board").frame.origin.z = -81;  // 1 mm over the other
         add_film(part_of(l, "a/board"), {{0, 0, 0}, {400, 300, 20}});
       }},
      {"clearance.undecided", two_posts,
       [](Layout& l) {
         // Touching: the true overlap is 0.0098 mm, and what covers the arcs adds to it up to
         // 0.001. In some directions that is more than 0.01; this is the first of them.
         Part& post = part_of(l, "b/tank");
         for (int k = 0; k < 400; ++k) {
           const double phase = 2 * std::numbers::pi * k / 400 + 0.0004;
           post.frame.origin = Vec3{std::cos(phase), std::sin(phase), 0} * 39.9902;
           if (!check_clearance(l).findings.empty()) return;
         }
       }},
      {"clearance.not_whole", sound,
       [](Layout& l) {
         Part& board = part_of(l, "a/board");
         Shape shape = *board.shape;
         Region through = shape.prisms[0].prism.section;
         for (Corner& corner : through.outer) corner.at.x = corner.at.x > 200 ? 210 : 200;
         shape.prisms[0].prism.cuts.push_back({through.outer, -1, 19});
         board.shape = std::make_shared<const Shape>(shape);
       }},
      {"clearance.screw_out", [] { return screwed(40); },
       [](Layout& l) { l = screwed(15); }},  // 30 - 12: the tip comes 3 mm out of the other side
      {"clearance.bed_gap",
       [] {
         Layout l = boards_and_doors();
         l.beds = {{"b", {{0, 0, 700}, {400, 300, 700}}}};
         return l;
       },
       [](Layout& l) {  // 100 mm behind the bed
         l.parts.push_back(box_part("e/wall", {0, 400, 600}, {400, 418, 900}));
       }},
      {"clearance.outside", sound,
       [](Layout& l) {
         empty_van(l);
         part_of(l, "a/board").frame.origin.x = 3900;
       }},
      {"clearance.in_the_air", sound, empty_van},
      {"clearance.scan", [] { return scanned(0, 0); }, [](Layout& l) { l = scanned(8, 0); }},
      {"clearance.scan_touch", [] { return scanned(0, 0); },
       [](Layout& l) { l = scanned(0, 1.5); }},
  };
}

std::vector<Fault> motion_faults() {
  const auto sound = boards_and_doors;
  return {
      {"clearance.motion", sound,
       [](Layout& l) {
         l.parts.push_back(box_part("e/post", {760, 0, 0}, {780, 50, 50}));
       }},
      {"clearance.motion", sound,
       [](Layout& l) {
         l.parts.push_back(box_part("e/post", {1000, 250, 0}, {1020, 270, 50}));
       }},
      {"clearance.pair", sound,
       [](Layout& l) { l.motions[0].travel = l.motions[0].required = 560; }},
      {"clearance.pair_beyond", sound,
       [](Layout& l) {
         l.motions[0].travel = 560;
         l.motions[0].required = 100;
       }},
      {"clearance.tight_way", sound, [](Layout& l) { l.parts.push_back(post_beside_way()); }},
      {"clearance.gap_way", sound,
       [](Layout& l) {
         l.parts.push_back(post_beside_way());
         l.gaps.push_back({"e/gap", "d", "e", 2.0, {}});
       }},
      {"clearance.motion_held", drawer_behind_door,
       [](Layout& l) { l.parts.push_back(post_before_door()); }},
      {"clearance.motion_behind",
       [] {
         Layout layout = drawer_behind_door();
         layout.motions[1].travel = layout.motions[1].required = 3;
         return layout;
       },
       [](Layout& l) { l.parts.push_back(post_before_door()); }},
      {"clearance.motion_early", drawer_behind_door,
       [](Layout& l) { l.motions[0].required = std::numbers::pi / 3; }},
  };
}

std::vector<Fault> other_faults() {
  return {
      {"support.between_joists", battery_over_joist,
       [](Layout& l) { l.parts[0].frame.origin.x = 250; }},
      {"support.off_joists", battery_over_joist,
       [](Layout& l) { l.parts[0].frame.origin.y = 710; }},
      {"support.no_joists", battery_over_joist, empty_van},
      {"material.dissimilar_metals", two_of_aluminium,
       [](Layout& l) { part_of(l, "a/top").material = "steel_zinc"; }},
      {"material.expansion", two_of_aluminium,
       [](Layout& l) {
         part_of(l, "a/top").material = "hdpe";
         bolt_through(l, 50);
         bolt_through(l, 950);
       }},
      {"material.glued_across", two_of_aluminium,
       [](Layout& l) {
         Part& plank = part_of(l, "a/top");
         plank.kind = PartKind::plank;
         plank.stock.key = "maple_9";
         plank.material = "maple";
         part_of(l, "a/low").material = "birch_plywood";
         l.joints[0].glued = true;
       }},
      {"support.not_tied",
       [] {
         Layout layout = screwed(40);
         layout.vehicle = scenes::plain_van();
         part_of(layout, "a/low").mass_kg = 25;
         part_of(layout, "a/screw").hosts.push_back("vehicle/floor");
         return layout;
       },
       [](Layout& l) { part_of(l, "a/screw").hosts.pop_back(); }},
      {"fixing.wood_screw_in_metal", [] { return screwed(40); },
       [](Layout& l) {
         auto catalogue = std::make_shared<Catalogue>(*l.catalogue);
         catalogue->materials["metal"].density = 2.7e-6;
         l.catalogue = catalogue;
         part_of(l, "a/low").material = "metal";
       }},
      {"fixing.holds_nothing", [] { return screwed(40); },  // its tip lies 18 mm below the upper board
       [](Layout& l) { part_of(l, "a/low").frame.origin.z = -20; }},
      {"fixing.too_short", [] { return screwed(40); },  // 3 mm in the lower board, of 1.5 x 4
       [](Layout& l) { part_of(l, "a/low").frame.origin.z = -15; }},
      {"fixing.screws_meet", [] { return screwed(40); },  // 6 apart, 4 thick: 2 of wood between them
       [](Layout& l) {
         Part second = part_of(l, "a/screw");
         second.id = "a/screw_2";
         second.frame.origin.x += 6;
         l.parts.insert(l.parts.begin() + 2, second);
       }},
      {"fixing.near_edge", [] { return screwed(40); },  // less than 1.4 x 4 mm
       [](Layout& l) { part_of(l, "a/screw").frame.origin.x = 5.5; }},
      {"fixing.short_for_nut", [] { return screwed(40); },
       [](Layout& l) {
         auto catalogue = std::make_shared<Catalogue>(*l.catalogue);
         catalogue->bolts["wood"].kind = BoltKind::machine;
         l.catalogue = catalogue;
         Part& low = part_of(l, "a/low");
         Shape shape = *low.shape;
         Prism& prism = shape.prisms.front().prism;
         const Vec3 top = shape.prisms.front().frame.local_point(
             low.frame.local_point({200, 150, 0}));
         prism.bores.push_back({.at = top, .diameter = 4.5, .depth = 40, .through = true});
         low.shape = std::make_shared<const Shape>(std::move(shape));
       }},
      {"judgement.stack", boards_and_doors,
       [](Layout& l) {
         l.gaps.push_back({"a/gap", "a", "b", 81.9, {}});
       }},
      {"judgement.rattle", boards_and_doors,
       [](Layout& l) {
         l.parts.push_back(box_part("e/board", {401.5, 0, 0}, {500, 300, 18}));
       }},
      {"judgement.measure", bar_at_wall, [](Layout& l) { l.parts[0].frame.origin.y = 4; }},
      {"assembly.interlock", tube_and_core,
       [](Layout& l) {
         // The plug gets a head at its other end too.
         Part& plug = part_of(l, "m/plug");
         Shape shape = *plug.shape;
         shape.prisms.push_back(box_shape({100.5, -10, -10}, {120, 110, 110}).prisms.front());
         plug.shape = std::make_shared<const Shape>(std::move(shape));
       }},
      {"assembly.tool", [] { return screwed(40); }, [](Layout& l) { l = screwed(40, true); }},
  };
}

}  // namespace

const std::vector<Fault>& faults() {
  static const std::vector<Fault> all = [] {
    std::vector<Fault> made = static_faults();
    for (auto more : {motion_faults(), other_faults()})
      made.insert(made.end(), more.begin(), more.end());
    return made;
  }();
  return all;
}

Layout planted(const Fault& fault) {
  Layout layout = fault.sound();
  fault.plant(layout);
  std::ranges::sort(layout.parts, {}, &Part::id);
  return layout;
}

Findings all_findings(const Layout& layout) {
  Findings all = check_clearance(layout).findings;
  for (const Findings& more :
       {judge(layout).findings, check_materials(layout), check_supports(layout),
        check_fixings(layout), check_ties(layout),
        layout.catalogue ? plan_assembly(layout).findings : Findings{}})
    all.insert(all.end(), more.begin(), more.end());
  return all;
}

bool of_checks(std::string_view code) {
  return std::ranges::any_of(std::vector<std::string_view>{"assembly.", "clearance.", "fixing.",
                                                           "judgement.",
                                                           "material.", "support."},
                             [&](std::string_view prefix) { return code.starts_with(prefix); });
}

}  // namespace ribbay::planted
