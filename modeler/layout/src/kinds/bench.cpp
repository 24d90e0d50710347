#include "bench.hpp"

#include "base/tolerance.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// Floor bolts from the front and the back, and from the uprights (common practice, no source: room
/// for a washer and a spanner).
constexpr double kBoltInset = 60.0;
constexpr double kBoltBeside = 30.0;
/// Wood that stays beside the cut for a wheel arch where a screw goes.
constexpr double kBesideArch = 15.0;
/// Four bolts hold a bench on the floor, as the feet of a rack.
constexpr std::size_t kFloorBolts = 4;

std::vector<Field> bay_fields() {
  return {
      sizes_field("width")
          .items(1, 1)
          .otherwise("[\"1 share\"]")
          .means("clear width between the boards of the bay: \"420 mm\", or \"1 share\" of what is "
                 "left"),
      choice_field("front", {"closed", "open"})
          .otherwise("closed")
          .means("open: an opening in the front"),
      length_field("rim").otherwise("50 mm").at_least(20).means(
          "what is left of the front around its opening"),
      count_field("vents").otherwise("0").at_least(0).at_most(100).means(
          "upright slots in a closed front that let air through"),
  };
}

std::vector<Field> bench_fields() {
  return {
      reference_field("sheet", kBoard).needed().means("sheet of the front, back and uprights"),
      reference_field("bottom_sheet", kBoard).means("sheet of the bottoms; by default as `sheet`"),
      reference_field("lid_sheet", kBoard).means("sheet of the lids; by default as `sheet`"),
      choice_field("lid", {"hinged", "lift-out"})
          .otherwise("hinged")
          .means("hinged: at a strip along the back; lift-out: it lies loose, held by cleats"),
      sizes_field("lids")
          .items(1, 20)
          .otherwise("[\"1 share\"]")
          .means("widths of the lids from left to right: lengths, or shares of what is left"),
      length_field("lid_gap").otherwise("3 mm").at_least(0).means("between neighbouring lids"),
      length_field("hinge_strip")
          .otherwise("60 mm")
          .at_least(30)
          .at_most(300)
          .means("depth of the strip that hinged lids turn on"),
      reference_field("hinge", "butt_hinge").means("hinges of the lids; needed for hinged ones"),
      angle_field("opens")
          .otherwise("90 deg")
          .above(0)
          .at_most(std::numbers::pi)
          .means("how far hinged lids must open"),
      reference_field("stay", kStay).means("stay that holds each hinged lid open"),
      reference_field("stay_screw", kWoodScrew).means("screw of the stays; needed for them"),
      length_field("finger_hole")
          .otherwise("30 mm")
          .at_least(0)
          .means("hole in each lid to lift it by; 0 for none"),
      reference_field("screw", kWoodScrew).needed().means("screw that holds a board's edge"),
      reference_field("panel_screw", kWoodScrew)
          .means("screw that holds two boards face to face; needed for lift-out lids"),
      reference_field("edge_band", kEdgeBand).means("edge band on the lids; their sizes include it"),
      length_field("vent_width").otherwise("10 mm").at_least(4).means("of a slot"),
      length_field("vent_height").otherwise("80 mm").above(10).means("of a slot"),
      length_field("arch_gap")
          .otherwise("10 mm")
          .at_least(0)
          .means("kept from a wheel arch that the bench stands over"),
      reference_field("floor_bolt", kMachineBolt)
          .means("bolt through the bottoms into the floor joists they cross"),
      count_field("persons").otherwise("0").at_least(0).at_most(20).means("who sit on it"),
      mass_field("person_mass")
          .otherwise("75 kg")
          .at_least(0)
          .means("of each of them; 75 kg: Regulation (EU) 1230/2012, annex I"),
      length_field("cushion").otherwise("0 mm").at_least(0).means("thickness of the cushions"),
      length_field("head_room")
          .otherwise("0 mm")
          .at_least(0)
          .means("height kept clear above the cushions"),
      keyed_field("bays", bay_fields())
          .needed()
          .items(1, 20)
          .means("the parts of the box between its uprights, from left to right"),
  };
}

/// The wheel arches where the bench may stand, as boxes that reach far below and behind it.
std::vector<BenchPlan::Arch> arches_near(const ModuleRequest& request) {
  constexpr double far = 1000.0;
  const double gap = request.fields.number("arch_gap");
  std::vector<BenchPlan::Arch> arches;
  for (const WheelArch& arch : request.vehicle.arches) {
    const double side = arch.side == VanSide::left ? 1.0 : -1.0;
    BenchPlan::Arch near{.box = {}, .radius = arch.radius + gap, .edge = arch.edge_radius + gap};
    near.box.add(
        request.from_van({arch.from - gap, side * (arch.half_width - gap), arch.height + gap}));
    near.box.add(request.from_van({arch.to + gap, side * far * 2, -far}));
    arches.push_back(near);
  }
  return arches;
}

BenchPlan common_sizes(const ModuleRequest& request) {
  const Record& fields = request.fields;
  const std::string& main = fields.text("sheet");
  const auto sheet = [&](const char* field) {
    return &entry(request.catalogue.sheets, fields.text_or(field, main));
  };
  BenchPlan plan;
  plan.sheet = sheet("sheet");
  plan.bottom = sheet("bottom_sheet");
  plan.lid = sheet("lid_sheet");
  if (fields.has("edge_band"))
    plan.band = &entry(request.catalogue.finishes, fields.text("edge_band"));
  plan.t = plan.sheet->thickness;
  plan.box_top = request.size.z - plan.lid->thickness;
  plan.back = request.size.y - plan.t;
  plan.dado = dado_depth(*plan.sheet);
  plan.bays = bays_of(fields, "bays");
  plan.arches = arches_near(request);
  return plan;
}

/// The bay whose bottom takes a bolt there, or nullptr.
const Bay* bolted_bay(const BenchWork& work, Vec3 at) {
  if (at.y < work.plan.t + kBoltBeside || at.y > work.plan.back - kBoltBeside) return nullptr;
  if (work.in_arch(at)) return nullptr;
  const auto takes = [&](const Bay& bay) {
    return at.x >= bay.left + kBoltBeside && at.x <= bay.right - kBoltBeside;
  };
  const auto found = std::ranges::find_if(work.plan.bays, takes);
  return found == work.plan.bays.end() ? nullptr : &*found;
}

/// Where the bench can be bolted to a joist: near both ends of what it covers of it.
std::vector<Vec3> bolts_over(const BenchWork& work, const Joist& joist, const Box& van) {
  std::vector<Vec3> found;
  const double z = work.plan.bottom->thickness;
  const int axis = joist.across ? 1 : 0;
  for (const double other : {van.lo[axis] + kBoltInset, van.hi[axis] - kBoltInset}) {
    if (other < joist.from || other > joist.to) continue;
    const Vec3 at = joist.across ? Vec3{joist.at, other, 0} : Vec3{other, joist.at, 0};
    Vec3 own = work.request.from_van(at);
    own.z = z;
    if (bolted_bay(work, own) != nullptr) found.push_back(own);
  }
  return found;
}

/// The places of the floor bolts, from the left, the front ones first: over the first and the last
/// joist that the bottoms cover, or over all of them where a wheel arch leaves too few.
std::vector<Vec3> floor_bolts(const BenchWork& work) {
  const Box van = work.shop.to_van(Box{{0, 0, 0}, work.request.size});
  std::vector<std::vector<Vec3>> rows;
  std::vector<Vec3> all;
  for (const Joist& joist : work.request.vehicle.joists) {
    rows.push_back(bolts_over(work, joist, van));
    all.insert(all.end(), rows.back().begin(), rows.back().end());
  }
  std::erase_if(rows, [](const auto& row) { return row.empty(); });
  std::vector<Vec3> places = all;
  if (rows.size() > 2) {
    std::vector<Vec3> ends = rows.front();
    ends.insert(ends.end(), rows.back().begin(), rows.back().end());
    if (ends.size() >= kFloorBolts) places = ends;
  }
  std::ranges::sort(places, {}, [](Vec3 at) { return std::pair{at.x, at.y}; });
  return places;
}

/// Bolts the bottoms to the floor where the bench stands on it.
void bolt_to_floor(const BenchWork& work) {
  const ModuleRequest& request = work.request;
  if (!request.fields.has("floor_bolt") || std::abs(work.shop.to_van(Vec3{}).z) > kContact) return;
  const Bolt& bolt = entry(request.catalogue.bolts, request.fields.text("floor_bolt"));
  std::size_t made = 0;
  for (const Vec3 at : floor_bolts(work)) {
    const std::string bottom = "bottom." + bolted_bay(work, at)->key;
    work.joinery.board(bottom).holes.push_back(
        clearance_hole(bolt, at, {0, 0, -1}, work.plan.bottom->thickness));
    const std::string name = "floor_bolt_" + std::to_string(++made);
    const std::string id = work.shop.add(Fastener{.name = name,
                                                  .bolt = &bolt,
                                                  .at = at,
                                                  .direction = {0, 0, -1},
                                                  .hosts = {bottom, "vehicle/floor"}});
    const Vec3 place = work.shop.to_van(at);
    work.shop.made().floor_bolts.push_back(
        {.id = id,
         .at = {place.x, place.y},
         .diameter = bolt.diameter,
         .over_joist = over_joist(request.vehicle, {place.x, place.y}, bolt.diameter)});
    work.shop.join("joint." + name, "bolted to the floor", {work.shop.id(bottom), "vehicle/floor"},
                   {id});
  }
  if (made >= kFloorBolts) return;
  Finding finding;
  finding.code = "bench.few_floor_bolts";
  finding.severity = Severity::warning;
  finding.subjects = {request.name};
  work.shop.find(std::move(finding.with("measured", static_cast<double>(made), Unit::count)
                               .with("required", static_cast<double>(kFloorBolts), Unit::count)));
}

/// Room over the seat, from the cushions up.
void add_head_room(const BenchWork& work) {
  const Record& fields = work.request.fields;
  const double room = fields.number("head_room");
  if (room <= 0.0) return;
  const Vec3 size = work.request.size;
  const double from = size.z + fields.number("cushion");
  work.shop.made().zones.push_back({.id = work.shop.id("head_room"),
                                    .title = "head room above the seat",
                                    .kind = ZoneKind::head_room,
                                    .shape = box_shape({0, 0, from}, {size.x, size.y, from + room}),
                                    .frame = work.request.frame,
                                    .owner = work.request.name,
                                    .allowed = {work.request.name}});
}

ModuleParts make_bench(const ModuleRequest& request) {
  Workshop shop{request};
  Joinery joinery{request, shop};
  BenchPlan plan = common_sizes(request);
  const BenchWork work{{request, shop, joinery}, plan};
  constexpr double least_inside = 100.0;
  const bool shallow = is_too_small(work, "depth", 2 * plan.t + least_inside, request.size.y);
  const bool low = is_too_small(
      work, "height", plan.bottom->thickness + plan.lid->thickness + least_inside, request.size.z);
  const std::vector<double> none(plan.bays.size() + 1, 0.0);
  if (!divide_width(work, "bays", plan.bays, none, plan.t) || shallow || low) return shop.finish();
  divide_fronts(work, plan.bays, none, plan.t, 0.0);
  if (!make_box(work)) return shop.finish();
  make_lids(work);
  bolt_to_floor(work);
  add_head_room(work);
  joinery.finish();
  return shop.finish();
}

}  // namespace

bool BenchWork::in_arch(Vec3 at) const {
  return std::ranges::any_of(plan.arches, [&](const BenchPlan::Arch& arch) {
    for (int axis = 0; axis < 3; ++axis) {
      if (at[axis] < arch.box.lo[axis] - kBesideArch || at[axis] > arch.box.hi[axis] + kBesideArch)
        return false;
    }
    return true;
  });
}

Kind bench_kind() {
  return {.name = "bench",
          .schema = module_schema("bench",
                                  "A seat with room for storage under its lids; it may stand over "
                                  "a wheel arch.",
                                  bench_fields()),
          .generate = make_bench,
          .stands_over_arches = true};
}

}  // namespace ribbay::detail
