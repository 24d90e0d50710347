#include "base/tolerance.hpp"
#include "custom.hpp"
#include "slide_pair.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace ribbay::detail {

namespace {

/// By how much the room beside what rides may be more than a slide's thickness, mm: what marking
/// out leaves.
constexpr double kRoomOff = 0.5;

/// A part at a slide, and its bounds in the pair's axes.
struct SlideHost {
  Workpiece* piece = nullptr;
  Box box;
};

/// What an entry says: the pair's axes are those of who pulls it out.
struct SlideWork {
  CustomWork& work;
  const std::string& name;
  const Record& fields;
  const Slide& slide;
  Frame axes;
  std::array<SlideHost, 2> carriers{};  ///< left, right
  std::array<SlideHost, 2> riders{};
  double front = 0.0;   ///< y of the slides' front ends
  double middle = 0.0;  ///< z of their middle

  std::array<const SlideHost*, 4> hosts() const {
    return {&carriers[0], &carriers[1], &riders[0], &riders[1]};
  }
  std::string id(const SlideHost& host) const { return work.shop.id(host.piece->name()); }
  Finding fault(const char* code, const char* field) const {
    return work.fault(code, fields.place(field), name).with("slide", slide.key);
  }
};

Frame axes_towards(Vec3 out) {
  return {{}, cross(-out, Vec3{0, 0, 1}), -out, {0, 0, 1}};
}

/// True of a panel beside the slide, and of a member that runs along it with a slot.
bool can_hold(const Frame& axes, const Workpiece& piece) {
  const Frame own = piece.frame();
  const auto parallel = [](Vec3 a, Vec3 b) { return std::abs(dot(a, b)) > 1 - kSame; };
  if (piece.board() != nullptr)
    return parallel(own.z, axes.x) && (parallel(own.x, axes.y) || parallel(own.x, axes.z));
  return piece.slot() != nullptr && parallel(own.z, axes.y) &&
         (parallel(own.x, axes.x) || parallel(own.x, axes.z));
}

/// The two parts that a field names, the left one first. Reports "custom.slide_part" of what a
/// slide cannot be fixed to, and "custom.slide_two" of more or fewer.
bool find_hosts(SlideWork& slides, const char* field, std::array<SlideHost, 2>& found) {
  CustomWork& work = slides.work;
  const std::size_t told = work.shop.made().findings.size();
  const std::vector<std::string> parts = work.all_parts(slides.fields, field);
  if (work.shop.made().findings.size() > told || parts.empty()) return false;
  if (parts.size() != 2) {
    work.shop.find(slides.fault("custom.slide_two", field)
                       .with("field", field)
                       .with("count", static_cast<double>(parts.size()), Unit::count));
    return false;
  }
  for (std::size_t i = 0; i < 2; ++i) {
    const auto piece = work.pieces.find(parts[i]);
    if (piece == work.pieces.end() || !can_hold(slides.axes, piece->second)) {
      work.shop.find(slides.fault("custom.slide_part", field)
                         .with("found", parts[i])
                         .with("out", slides.fields.text("out")));
      return false;
    }
    found[i] = {&piece->second, in_axes(slides.axes, piece->second)};
  }
  if (found[0].box.centre().x > found[1].box.centre().x) std::swap(found[0], found[1]);
  return true;
}

/// Reports "custom.slide_room": each slide fills the room between what carries it and what rides.
bool room_fits(const SlideWork& slides) {
  bool good = true;
  for (const bool left : {true, false}) {
    const SlideHost& carrier = slides.carriers[left ? 0 : 1];
    const SlideHost& rider = slides.riders[left ? 0 : 1];
    const double room =
        left ? rider.box.lo.x - carrier.box.hi.x : carrier.box.lo.x - rider.box.hi.x;
    const double wanted = slides.slide.thickness;
    if (room >= wanted - kContact && room <= wanted + kRoomOff) continue;
    good = false;
    slides.work.shop.find(slides.fault("custom.slide_room", "riders")
                              .with("carrier", slides.id(carrier))
                              .with("rider", slides.id(rider))
                              .with("measured", room, Unit::mm)
                              .with("required", wanted, Unit::mm)
                              .with("by", std::abs(room - wanted), Unit::mm)
                              .with("way", room < wanted ? "apart" : "together"));
  }
  return good;
}

/// The height of the slot that a member turns to the slide, in the pair's axes.
double slot_height(const SlideWork& slides, const SlideHost& host, double near) {
  const bool carrier = &host == &slides.carriers[0] || &host == &slides.carriers[1];
  const bool left = &host == &slides.carriers[0] || &host == &slides.riders[0];
  const Vec3 out = slides.axes.x * (carrier == left ? 1.0 : -1.0);
  const Vec3 at = slides.axes.point({host.box.centre().x, host.box.centre().y, near});
  return slides.axes.local_point(*on_slot(*host.piece, out, at)).z;
}

/// Where the slides lie: as told, or at the riders' front ends and in the middle of the height that
/// all four share, or at a member's slot there.
void place(SlideWork& slides) {
  constexpr double endless = std::numeric_limits<double>::infinity();
  double low = -endless;
  double high = endless;
  double front = -endless;
  for (const SlideHost* host : slides.hosts()) {
    low = std::max(low, host->box.lo.z);
    high = std::min(high, host->box.hi.z);
  }
  for (const SlideHost& rider : slides.riders) front = std::max(front, rider.box.lo.y);
  slides.front = front + slides.fields.number("from_front");
  slides.middle = slides.fields.number_if("middle").value_or((low + high) / 2);
  if (slides.fields.has("middle")) return;
  for (const SlideHost* host : slides.hosts()) {
    if (host->piece->board() == nullptr) slides.middle = slot_height(slides, *host, slides.middle);
  }
}

/// Reports "custom.slide_beside" of slides that reach past a part, and "custom.slide_slot" of a
/// member whose slot lies at another height.
bool lie_on(const SlideWork& slides) {
  bool good = true;
  const auto report = [&](const char* code, const SlideHost& host, double measured,
                          const char* side) {
    if (measured <= kContact) return;
    good = false;
    slides.work.shop.find(slides.fault(code, "slide")
                              .with("part", slides.id(host))
                              .with("measured", measured, Unit::mm)
                              .with("side", side));
  };
  const double half = slides.slide.height / 2;
  for (const SlideHost* host : slides.hosts()) {
    report("custom.slide_beside", *host, host->box.lo.y - slides.front, "front");
    report("custom.slide_beside", *host, slides.front + slides.slide.length - host->box.hi.y,
           "back");
    if (host->piece->board() != nullptr) {
      report("custom.slide_beside", *host, host->box.lo.z - (slides.middle - half), "underside");
      report("custom.slide_beside", *host, slides.middle + half - host->box.hi.z, "top");
      continue;
    }
    const double off = slot_height(slides, *host, slides.middle) - slides.middle;
    report("custom.slide_slot", *host, std::abs(off), off > 0.0 ? "above" : "below");
  }
  return good;
}

/// Reports "custom.slide_needs": wood screws for panels, bolts and nuts for members.
bool names_fixings(const SlideWork& slides) {
  bool good = true;
  for (const char* field : {"screw", "bolt", "nut"}) {
    if (slides.fields.has(field)) continue;
    const bool for_panels = field == std::string_view("screw");
    const auto hosts = slides.hosts();
    const auto host = std::ranges::find_if(hosts, [&](const SlideHost* each) {
      return (each->piece->board() != nullptr) == for_panels;
    });
    if (host == hosts.end()) continue;
    good = false;
    slides.work.shop.find(slides.fault("custom.slide_needs", "slide")
                              .with("part", slides.id(**host))
                              .with("field", field));
  }
  if (!good || !slides.fields.has("bolt") || !slides.fields.has("nut")) return good;
  const Catalogue& all = slides.work.request.catalogue;
  const double bolt = entry(all.bolts, slides.fields.text("bolt")).diameter;
  const double nut = entry(all.nuts, slides.fields.text("nut")).diameter;
  if (bolt == nut) return true;
  slides.work.shop.find(slides.fault("joint.threads_differ", "nut")
                            .with("bolt", bolt, Unit::mm)
                            .with("nut", nut, Unit::mm));
  return false;
}

/// A wood screw into a panel, or a bolt into the slot nut of a member.
std::vector<std::string> fix(SlideWork& slides, Joiner& joiner, const Screw& screw) {
  Workpiece& piece = slides.work.pieces.find(screw.into)->second;
  if (piece.board() != nullptr) return {joiner.carcass().joinery.screw(screw)};
  const Catalogue& all = slides.work.request.catalogue;
  std::vector<std::string> ids;
  slides.work.shop.add(SlotBolt{.bolt_name = screw.name,
                                .nut_name = screw.name + ".nut",
                                .bolt = &entry(all.bolts, slides.fields.text("bolt")),
                                .nut = &entry(all.nuts, slides.fields.text("nut")),
                                .slot = piece.slot(),
                                .surface = screw.at + screw.direction * kSlideSteel,
                                .out = -screw.direction,
                                .along = slides.axes.y,
                                .clamped = kSlideSteel,
                                .member = screw.into,
                                .through = {screw.from},
                                .place = slides.fields.place("bolt")},
                       ids);
  return ids;
}

/// True when other slides lie on the far side of the right carrier: theirs is one of the two alone.
bool is_shared(const SlideWork& slides) {
  const std::string& left = slides.carriers[0].piece->name();
  const std::string& right = slides.carriers[1].piece->name();
  return std::ranges::any_of(slides.work.request.fields.tables("slides"), [&](const auto& other) {
    const std::vector<std::string>& carriers = other.second.texts("carriers");
    const auto names = [&](const std::string& part) {
      return std::ranges::find(carriers, part) != carriers.end();
    };
    return names(right) && !names(left);
  });
}

bool travels(const SlideWork& slides, double required) {
  if (required <= slides.slide.travel + kSame) return true;
  slides.work.shop.find(slides.fault("custom.slide_short", "must_slide")
                            .with("measured", slides.slide.travel, Unit::mm)
                            .with("required", required, Unit::mm));
  return false;
}

void make_slide(CustomWork& work, const std::string& name, const Record& fields) {
  const Slide& slide = bought(work.request, work.request.catalogue.slides, fields.text("slide"));
  if (!is_only_motion(work, name, fields)) return;
  const Vec3 out = way(fields.text("out"));
  SlideWork slides{work, name, fields, slide, axes_towards(out)};
  const bool carriers = find_hosts(slides, "carriers", slides.carriers);
  const bool riders = find_hosts(slides, "riders", slides.riders);
  if (!carriers || !riders || !names_fixings(slides) || !room_fits(slides)) return;
  place(slides);
  const double required = fields.number_if("must_slide").value_or(slide.travel);
  if (!lie_on(slides) || !travels(slides, required)) return;

  Joiner joiner(work, "slides", name, fields);
  for (const SlideHost* host : slides.hosts()) joiner.take(*host->piece);
  const std::string title = fields.text_or("title", part_title(fields, name));
  const auto by = [&](const Screw& screw) { return fix(slides, joiner, screw); };
  Motion motion{.id = {},
                .title = title,
                .kind = MotionKind::translation,
                .parts = add_slide_pair(
                    joiner.carcass(),
                    {.name = name,
                     .title = title,
                     .slide = &slide,
                     .front = slides.front,
                     .middle = slides.middle,
                     .rider_front = slides.front,
                     .rider_back = slides.front + slide.length,
                     .screw = "screw",
                     .sides = {{{slides.carriers[0].box.hi.x, slides.carriers[0].piece->name(),
                                 slides.riders[0].piece->name()},
                                {slides.carriers[1].box.lo.x, slides.carriers[1].piece->name(),
                                 slides.riders[1].piece->name(), is_shared(slides)}}},
                     .axes = slides.axes},
                    by, by),
                .axis = work.request.direction_to_van(out),
                .origin = {},
                .travel = slide.travel,
                .required = required,
                .gives_way = {}};
  for (const SlideHost& rider : slides.riders) motion.parts.push_back(slides.id(rider));
  joiner.give_back();
  add_motion(work, name, fields, std::move(motion));
}

/// Warns "custom.slide_not_held" of what nothing keeps in on the road.
void check_held(CustomWork& work, const std::string& name, const Record& fields,
                const Slide& slide) {
  if (fields.has("held_by")) {
    work.parts(fields, "held_by", fields.text("held_by"));
    return;
  }
  if (slide.locks_in) return;
  Finding finding = work.fault("custom.slide_not_held", fields.place("slide"), name);
  finding.severity = Severity::warning;
  finding.source = "common practice, no source";
  work.shop.find(std::move(finding.with("slide", slide.key)));
}

}  // namespace

void make_slides(CustomWork& work) {
  for (const auto& [name, fields] : work.request.fields.tables("slides"))
    make_slide(work, name, fields);
}

void check_slides(CustomWork& work) {
  for (const auto& [name, fields] : work.request.fields.tables("slides")) {
    const auto& motions = work.shop.made().motions;
    const auto motion = std::ranges::find(motions, motion_id(work, name), &Motion::id);
    if (motion == motions.end()) continue;
    const Slide& slide = bought(work.request, work.request.catalogue.slides, fields.text("slide"));
    check_slide_load(work.shop, slide, motion->parts, fields.number("load"),
                     work.fault("custom.slide_overloaded", fields.place("slide"), name));
    check_held(work, name, fields, slide);
  }
}

Field slides_field() {
  return keyed_field(
             "slides",
             {reference_field("slide", "slide")
                  .needed()
                  .means("what is bought: a pair; how far it comes out, what it bears and whether "
                         "it locks "
                         "stand there"),
              FieldMaker{"carriers", FieldKind::texts}.items(1, 2).needed().means(
                  "the two parts beside it that carry the slides: upright panels, or slotted "
                  "members that run along them; a name of something repeated twice means both"),
              FieldMaker{"riders", FieldKind::texts}.items(1, 2).needed().means(
                  "the two parts between those that ride on them, as far off as a slide is thick: "
                  "sides of a drawer, of a tray, below a top"),
              choice_field("out", {"front", "right", "back", "left"})
                  .otherwise("front")
                  .means("the way it comes out"),
              reference_field("screw", kWoodScrew).means("into panels; needed for them"),
              reference_field("bolt", kMachineBolt)
                  .means("into the slots of members; needed for them"),
              reference_field("nut", "nut").means("slot nut of that bolt"),
              length_field("from_front")
                  .otherwise("0 mm")
                  .at_least(0)
                  .means("from the riders' ends to those of the slides, where it comes out"),
              length_field("middle").means(
                  "height of the slides' middle in the module; by default the middle of what all "
                  "four parts share, or the slot of a member"),
              length_field("must_slide")
                  .above(0)
                  .means("how far it must come out; by default as far as the slides do"),
              mass_field("load").otherwise("0 kg").at_least(0).means(
                  "of what is put in or on it and is no part that it moves"),
              text_field("held_by").means("the part of this module, such as a latch, that keeps it "
                                          "in on the road; not needed for slides that lock"),
              moves_field("more parts that come out: bottom, front, handle, equipment"),
              after_field(), motion_title_field()})
      .means("drawer slides in pairs, with their screws: drawers, trays, tops that come out");
}

}  // namespace ribbay::detail
