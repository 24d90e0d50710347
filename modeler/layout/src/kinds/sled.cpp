#include "base/tolerance.hpp"
#include "kind.hpp"
#include "spec/fields.hpp"
#include "tray_form.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Air between the base and the upright leg of a runner at each side, so that it slides. Common
/// practice, no source.
constexpr double kSideAir = 1.0;
/// Screws of a runner keep this from its ends and stand at most so far apart. Common practice, no
/// source.
constexpr double kScrewFromEnd = 30.0;
constexpr double kScrewPitch = 300.0;

/// What of an angle's section matters here: heel at the lower left, legs along x and y.
struct AngleLegs {
  double thickness = 0.0;  ///< of the leg along x
  double root = 0.0;       ///< radius of the fillet between the legs
};

AngleLegs legs_of(const Profile& angle) {
  AngleLegs legs;
  for (const Corner& corner : angle.section.outer) {
    if (corner.at.x > angle.width / 2 - kSame)
      legs.thickness = std::max(legs.thickness, corner.at.y + angle.height / 2);
    const bool inner = std::abs(corner.at.x) < angle.width / 2 - kSame &&
                       std::abs(corner.at.y) < angle.height / 2 - kSame;
    if (inner) legs.root = std::max(legs.root, corner.radius);
  }
  return legs;
}

/// Footprint of an equipment after quarter turns.
Vec3 turned_size(const Equipment& item, int turns) {
  const Vec3 size = item.body().size();
  return turns % 2 == 0 ? size : Vec3{size.y, size.x, size.z};
}

/// Heights and widths that follow from what the sled is made of.
struct SledSizes {
  double leg = 0.0;     ///< thickness of a runner's leg that the base slides on
  double inset = 0.0;   ///< from the side of the module to the base
  double base_top = 0.0;
  double rim = 0.0;     ///< from the outside of a folded base to where its floor is flat
  double stop = 0.0;    ///< depth of the stop behind the base
  Vec3 clamp{};         ///< size of a clamp screw; no size when there is none

  SledSizes(const Profile& runner, const Sheet& base, double rim_height, const Fitting* clamp_screw) {
    const AngleLegs legs = legs_of(runner);
    leg = legs.thickness;
    inset = legs.thickness + std::max(kSideAir, legs.root);
    base_top = leg + base.thickness;
    rim = rim_height > 0.0 ? base.thickness + base.bend_radius : 0.0;
    stop = runner.width;
    if (clamp_screw != nullptr)
      clamp = bounds(body_shape(clamp_screw->boxes, clamp_screw->rounds)).size();
  }
};

/// An equipment on a base that slides on two runners, against a stop at the back, held by clamp
/// screws; it comes out at the module's front.
///
///     |       equipment       |
///     |_______________________|
///    | ======== base ========= |
///    |____                 ____|   runners
class Sled {
 public:
  explicit Sled(const ModuleRequest& request)
      : r_{request},
        shop_{request},
        runner_{entry(request.catalogue.profiles, request.fields.text("runner"))},
        sheet_{entry(request.catalogue.sheets, request.fields.text("base"))},
        item_{bought(request, request.catalogue.equipment, request.fields.text("item"))},
        turns_{static_cast<int>(request.fields.number("quarter_turns"))},
        clamp_{request.fields.has("clamp")
                   ? &bought(request, request.catalogue.fittings, request.fields.text("clamp"))
                   : nullptr},
        sizes_{runner_, sheet_, request.fields.number("rim"), clamp_} {}

  ModuleParts make() {
    if (!usable()) return shop_.finish();
    add_runner(true, r_.left());
    add_runner(false, r_.right());
    add_stop();
    add_base();
    add_item();
    add_clamps();
    finish_runners();
    if (tray_)
      shop_.add(*tray_);
    else
      shop_.add(base_);
    let_out();
    return shop_.finish();
  }

 private:
  double base_left() const { return sizes_.inset; }
  double base_right() const { return r_.size.x - sizes_.inset; }
  double base_back() const { return r_.size.y - sizes_.stop; }

  Finding fault(const char* code, const char* field) const {
    Finding finding = input_error(code, r_.fields.place(field));
    finding.subjects = {r_.name};
    return finding;
  }

  bool usable() {
    if (runner_.family != ProfileFamily::angle) {
      shop_.find(fault("sled.runner", "runner").with("found", runner_.key));
      return false;
    }
    const Vec3 item = turned_size(item_, turns_);
    const double wide = base_right() - base_left() - 2 * sizes_.rim;
    const double deep = base_back() - 2 * sizes_.rim - sizes_.clamp.y;
    bool good = true;
    const auto check = [&](const char* field, double measured, double required) {
      if (measured >= required - kSame) return;
      good = false;
      shop_.find(fault("sled.too_small", field)
                     .with("measured", measured, Unit::mm)
                     .with("required", required, Unit::mm)
                     .with("field", field));
    };
    check("width", wide, item.x);
    check("depth", deep, item.y);
    const double rim = r_.fields.number("rim");
    if (rim > 0.0 && sheet_.bend_radius <= 0.0) {
      shop_.find(fault("sled.no_rim", "rim").with("found", sheet_.key));
      good = false;
    }
    return good;
  }

  // -- runners ------------------------------------------------------------------------------------

  /// The leg that the base slides on points inwards.
  void add_runner(bool left, const std::string& word) {
    Bar bar{.name = "runner." + word,
            .title = "Runner",
            .profile = &runner_,
            .from = {left ? runner_.width / 2 : r_.size.x - runner_.width / 2,
                     left ? r_.size.y : 0.0, runner_.height / 2},
            .direction = {0, left ? -1.0 : 1.0, 0},
            .across = {left ? 1.0 : -1.0, 0, 0},
            .length = r_.size.y,
            .holes = {}};
    runners_.push_back(std::move(bar));
  }

  /// Screws with sunk heads through the lower legs into what the sled stands on.
  void finish_runners() {
    for (Bar& bar : runners_) {
      if (r_.fields.has("screw")) screw_down(bar);
      shop_.add(bar);
    }
  }

  void screw_down(Bar& bar) {
    const Bolt& screw = entry(r_.catalogue.bolts, r_.fields.text("screw"));
    if (!screw.countersunk || screw.head_height > sizes_.leg + kSame) {
      if (&bar == &runners_.front()) {
        shop_.find(fault("sled.screw_head", "screw")
                       .with("stock", screw.key)
                       .with("measured", screw.countersunk ? screw.head_height : 0.0, Unit::mm)
                       .with("required", sizes_.leg, Unit::mm));
      }
      return;
    }
    const bool left = bar.across.x > 0.0;
    // In the middle of what is flat of the leg, and of the base that hides it.
    const double in = (sizes_.inset + runner_.width) / 2;
    const double x = left ? in : r_.size.x - in;
    const double reach = r_.size.y - 2 * kScrewFromEnd;
    const int count = std::max(2, static_cast<int>(std::ceil(reach / kScrewPitch)) + 1);
    std::vector<std::string> hardware;
    for (int i = 0; i < count; ++i) {
      const Vec3 at{x, kScrewFromEnd + reach * i / (count - 1), sizes_.leg};
      bar.holes.push_back(clearance_hole(screw, at, {0, 0, -1}, sizes_.leg));
      std::vector<std::string> hosts{shop_.id(bar.name)};
      if (r_.fields.has("into")) hosts.push_back(r_.fields.text("into"));
      const std::string name = bar.name + ".screw_" + std::to_string(i + 1);
      hardware.push_back(shop_.add(Fastener{.name = name,
                                            .bolt = &screw,
                                            .at = at,
                                            .direction = {0, 0, -1},
                                            .hosts = std::move(hosts)}));
      if (!r_.fields.has("into")) {
        const Vec3 van = shop_.to_van(at);
        shop_.made().floor_bolts.push_back(
            {.id = hardware.back(), .at = {van.x, van.y}, .diameter = screw.diameter});
      }
    }
    if (!r_.fields.has("into")) return;
    shop_.join("joint." + bar.name, "screwed", {shop_.id(bar.name), r_.fields.text("into")},
               std::move(hardware));
  }

  /// A cross angle on the runners; its upright leg faces the base.
  void add_stop() {
    const double inset = sizes_.inset;
    Bar stop{.name = "stop",
             .title = "Stop",
             .profile = &runner_,
             .from = {inset, r_.size.y - runner_.width / 2, sizes_.leg + runner_.height / 2},
             .direction = {1, 0, 0},
             .across = {0, 1, 0},
             .length = r_.size.x - 2 * inset,
             .holes = {}};
    const std::string id = shop_.add(stop);
    for (const Bar& bar : runners_)
      shop_.join("joint.stop.to." + bar.name, "riveted", {id, shop_.id(bar.name)});
  }

  // -- what slides --------------------------------------------------------------------------------

  void add_base() {
    const Box box{{base_left(), 0, sizes_.leg}, {base_right(), base_back(), sizes_.base_top}};
    const double rim = r_.fields.number("rim");
    if (rim > 0.0) {
      tray_ = BentBoard{.name = "base",
                        .title = "Sled base",
                        .sheet = &sheet_,
                        .frame = {box.lo},
                        .sheet_metal = tray_sheet({.size = {box.size().x, box.size().y, rim},
                                                   .thickness = sheet_.thickness,
                                                   .radius = sheet_.bend_radius,
                                                   .k_factor = sheet_.k_factor,
                                                   .walls = {true, true, true, true},
                                                   .lip = 0.0,
                                                   .relief = sheet_.thickness,
                                                   .gap = kTrayCornerGap}),
                        .kind = PartKind::folded};
    } else {
      base_ = {.name = "base",
               .title = "Sled base",
               .sheet = &sheet_,
               .box = box,
               .normal = {0, 0, 1},
               .along = {0, 1, 0},
               .cuts = {},
               .holes = {}};
    }
    moving_.push_back(shop_.id("base"));
    for (const Bar& bar : runners_)
      shop_.join("joint.base.on." + bar.name, "slides", {shop_.id("base"), shop_.id(bar.name)});
    shop_.join("joint.base.to.stop", "rests against", {shop_.id("base"), shop_.id("stop")});
  }

  void add_item() {
    const Vec3 size = turned_size(item_, turns_);
    const Vec3 at{r_.fields.number_if("from_left")
                      .value_or((base_left() + base_right() - size.x) / 2),
                  r_.fields.number_if("from_front").value_or(base_back() - sizes_.rim - size.y),
                  sizes_.base_top};
    const std::string id = shop_.add_equipment("item", item_, at, turns_);
    moving_.push_back(id);
    shop_.join("joint.item", "held on the sled", {id, shop_.id("base")});
    for (Zone& zone : shop_.made().zones)  // what carries it may reach into its air
      zone.allowed.insert(zone.allowed.end(), {r_.name});
    const double past =
        sizes_.rim + std::max({base_left() - at.x, at.x + size.x - base_right(), -at.y,
                               at.y + size.y - base_back()});
    if (past <= kSame) return;
    shop_.find(fault("sled.item_beside", r_.fields.has("from_left") ? "from_left" : "from_front")
                   .with("measured", past, Unit::mm));
  }

  /// Clamp screws on the base at its front, beside the runners that they hold it to.
  void add_clamps() {
    if (clamp_ == nullptr) return;
    const Fitting& clamp = *clamp_;
    const double in = sizes_.inset + sizes_.rim + sizes_.clamp.x / 2;
    for (const bool left : {true, false}) {
      const Vec3 at{left ? in : r_.size.x - in, sizes_.rim + sizes_.clamp.y / 2, sizes_.base_top};
      const std::string word = left ? r_.left() : r_.right();
      const std::string id = shop_.add_fitting("clamp." + word, clamp, {at},
                                               {"base", "runner." + word});
      for (const FixingHole& hole : clamp.holes) drill_base(at + hole.at, hole.diameter);
      shop_.join("joint.clamp." + word, "clamped", {shop_.id("base"), shop_.id("runner." + word)},
                 {id});
      moving_.push_back(id);
      ++clamps_;
    }
  }

  void drill_base(Vec3 at, double diameter) {
    if (!tray_) {
      base_.holes.push_back({.at = at,
                             .direction = {0, 0, -1},
                             .diameter = diameter,
                             .depth = sheet_.thickness,
                             .through = true,
                             .role = BoreRole::bolt,
                             .thread = {}});
      return;
    }
    const Vec3 local = at - tray_->frame.origin;
    tray_->sheet_metal.flats.front().bores.push_back({.at = {local.x, local.y, sheet_.thickness},
                                                      .direction = {0, 0, -1},
                                                      .diameter = diameter,
                                                      .depth = sheet_.thickness,
                                                      .through = true});
  }

  /// Pulled until it is free of the module, with its base and its clamp screws.
  void let_out() {
    const Vec3 out = r_.direction_to_van({0, -1, 0});
    const std::string item = shop_.id("item");
    const double travel = r_.size.y;
    std::vector<std::string> along = moving_;
    std::erase(along, item);
    std::vector<Removal>& removals = shop_.made().removals;
    std::erase_if(removals, [&](const Removal& removal) { return removal.id == item; });
    removals.push_back({.id = item,
                        .direction = out,
                        .travel = travel,
                        .fasteners = clamps_,
                        .along = along,
                        .life_years = item_.life_years});
    shop_.made().motions.push_back({.id = shop_.id("slide"),
                                    .title = "Sled with " + item_.title,
                                    .kind = MotionKind::translation,
                                    .parts = moving_,
                                    .axis = out,
                                    .origin = {},
                                    .travel = travel,
                                    .required = travel,
                                    .gives_way = {}});
  }

  const ModuleRequest& r_;
  Workshop shop_;
  const Profile& runner_;
  const Sheet& sheet_;
  const Equipment& item_;
  int turns_;
  const Fitting* clamp_;  ///< null: none
  SledSizes sizes_;
  std::vector<Bar> runners_;  ///< until all their holes are known
  Board base_;
  std::optional<BentBoard> tray_;  ///< instead of the base board
  std::vector<std::string> moving_;
  int clamps_ = 0;
};

/// As large as the equipment on it needs.
std::optional<double> sled_size(const EarlyFields& early, int axis) {
  const auto runner = early.evaluator.text(early.path, "runner");
  const auto base = early.evaluator.text(early.path, "base");
  const auto item = early.evaluator.text(early.path, "item");
  const auto turns = early.evaluator.number(early.path, "quarter_turns");
  const auto rim = early.evaluator.number(early.path, "rim");
  if (!runner || !base || !item || !turns || !rim) return std::nullopt;
  const auto profile = early.catalogue.profiles.find(*runner);
  const auto sheet = early.catalogue.sheets.find(*base);
  const auto equipment = early.catalogue.equipment.find(*item);
  if (profile == early.catalogue.profiles.end() || sheet == early.catalogue.sheets.end() ||
      equipment == early.catalogue.equipment.end())
    return std::nullopt;
  const Fitting* screw = nullptr;
  if (early.evaluator.has(early.path, "clamp")) {
    const auto clamp = early.evaluator.text(early.path, "clamp");
    if (!clamp) return std::nullopt;
    screw = &entry(early.catalogue.fittings, *clamp);
  }
  const SledSizes sizes{profile->second, sheet->second, *rim, screw};
  const Vec3 size = turned_size(equipment->second, static_cast<int>(*turns));
  if (axis == 0) return size.x + 2 * (sizes.inset + sizes.rim);
  if (axis == 1) return size.y + sizes.clamp.y + 2 * sizes.rim + sizes.stop;
  return std::max(sizes.base_top + size.z, sizes.leg + profile->second.height);
}

}  // namespace

Kind sled_kind() {
  return {
      .name = "sled",
      .schema = module_schema(
          "sled",
          "a carrier for one equipment that slides out on two runners, at its front; by default as "
          "large as the equipment needs",
          {reference_field("item", "equipment").needed().means("what stands on it"),
           count_field("quarter_turns")
               .otherwise("0")
               .at_least(0)
               .at_most(3)
               .means("of the item, counter-clockwise seen from above"),
           length_field("from_left").means(
               "of the item, from the module's left; by default it stands in the middle"),
           length_field("from_front").means(
               "of the item, from the module's front; by default it stands at the back"),
           reference_field("base", "sheet").needed().means("what the item stands on"),
           length_field("rim").otherwise("0 mm").at_least(0).means(
               "height of walls that are folded up all round the base, when it is of sheet metal"),
           reference_field("runner", "profile")
               .needed()
               .means("an angle: the base slides on its lower leg, beside the upright one"),
           reference_field("screw", "bolt")
               .means("countersunk screw through the runners into what the sled stands on"),
           text_field("into").means(
               "the part that these screws hold in, as lists name it; without it, the van's floor"),
           reference_field("clamp", "fitting")
               .means("a clamp screw at each side of the front, that keeps the base in place")}),
      .generate = [](const ModuleRequest& request) { return Sled(request).make(); },
      .default_size = sled_size};
}

}  // namespace ribbay::detail
