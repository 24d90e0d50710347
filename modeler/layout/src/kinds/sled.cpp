#include "sled.hpp"

#include "base/tolerance.hpp"
#include "holds.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <cmath>

namespace ribbay::detail {

namespace {

/// Air between the base and the upright leg of a runner at each side, so that it slides. Common
/// practice, no source.
constexpr double kSideAir = 1.0;
/// Air between the base and the runners' lower legs when slides carry it. Common practice, no
/// source.
constexpr double kUnderAir = 3.0;

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

SledStock stock_of(const ModuleRequest& request, const Equipment& item) {
  const Record& fields = request.fields;
  const Catalogue& all = request.catalogue;
  SledStock stock{.item = &item,
                  .turns = static_cast<int>(fields.number("quarter_turns")),
                  .runner = &entry(all.profiles, fields.text("runner")),
                  .base = &entry(all.sheets, fields.text("base")),
                  .rim = fields.number("rim")};
  if (fields.has("clamp")) stock.clamp = &bought(request, all.fittings, fields.text("clamp"));
  if (fields.has("slide")) stock.slide = &bought(request, all.slides, fields.text("slide"));
  stock.sides = &entry(all.sheets, fields.text_or("side_sheet", stock.base->key));
  return stock;
}

bool is_large_enough(const SledWork& work) {
  const Vec3 item = item_size(work.stock);
  const SledSizes& sizes = work.sizes;
  bool good = true;
  const auto check = [&](const char* field, double measured, double required) {
    if (measured >= required - kSame) return;
    good = false;
    work.shop.find(work.fault("sled.too_small", field)
                       .with("measured", measured, Unit::mm)
                       .with("required", required, Unit::mm)
                       .with("field", field));
  };
  check("width", work.base_right() - work.base_left() - 2 * sizes.rim, item.x);
  check("depth", work.base_back() - 2 * sizes.rim - sizes.clamp.y, item.y);
  const Slide* slide = work.stock.slide;
  if (slide == nullptr || slide->length <= work.request.size.y + kSame) return good;
  work.shop.find(work.fault("sled.slide_too_long", "slide")
                     .with("stock", slide->key)
                     .with("measured", slide->length, Unit::mm)
                     .with("required", work.request.size.y, Unit::mm));
  return false;
}

bool is_usable(const SledWork& work) {
  const SledStock& stock = work.stock;
  if (stock.runner->family != ProfileFamily::angle) {
    work.shop.find(work.fault("sled.runner", "runner").with("found", stock.runner->key));
    return false;
  }
  bool good = is_large_enough(work);
  if (stock.rim > 0.0 && stock.slide != nullptr) {
    work.shop.find(work.fault("sled.rim_and_slide", "rim").with("measured", stock.rim, Unit::mm));
    good = false;
  } else if (stock.rim > 0.0 && stock.base->bend_radius <= 0.0) {
    work.shop.find(work.fault("sled.no_rim", "rim").with("found", stock.base->key));
    good = false;
  }
  if (stock.slide != nullptr) {
    for (const char* item : {"slide_bolt", "slide_screw", "side_screw"})
      good &= names_item(work, work.asked("slide"), item);
  }
  return good;
}

/// Warns of a sled that nothing keeps in on the road, and of one too heavy for its slides.
void check_hold(const SledWork& work) {
  const Slide* slide = work.stock.slide;
  if (work.stock.clamp == nullptr && (slide == nullptr || !slide->locks_in)) {
    Finding finding = work.fault("sled.not_held", slide == nullptr ? "runner" : "slide");
    finding.severity = Severity::warning;
    finding.source = "common practice, no source";
    work.shop.find(std::move(finding));
  }
  if (slide == nullptr) return;
  check_slide_load(work.shop, *slide, work.moving, 0.0, work.fault("sled.overloaded", "slide"));
}

/// On runners the sled is pulled out whole, with its base and its clamps; on slides the equipment
/// is lifted off the sled that has come out.
Removal removal_of(const SledWork& work, const Motion& slides) {
  const Equipment& item = *work.stock.item;
  Removal removal{.id = work.shop.id("item"),
                  .direction = slides.axis,
                  .travel = slides.travel,
                  .along = {},
                  .life_years = item.life_years,
                  .undo = work.undo};
  if (work.stock.slide == nullptr) {
    const std::string clamp = work.shop.id("clamp.");
    for (const std::string& id : work.moving) {
      const bool screw = std::ranges::find(work.undo, id) != work.undo.end();
      if (id != removal.id && !screw) removal.along.push_back(id);
    }
    return removal;
  }
  removal.after = slides.id;
  removal.direction = {0, 0, 1};
  removal.travel = std::max(work.sizes.side_top - work.sizes.base_top, 0.0);
  if (item.comes_out) {
    removal.fasteners = item.comes_out->fasteners;
    removal.tool = item.comes_out->tool;
  }
  return removal;
}

void let_out(SledWork& work) {
  const Slide* slide = work.stock.slide;
  const double travel = slide == nullptr ? work.request.size.y : slide->travel;
  Motion motion{.id = work.shop.id("slide"),
                .title = "Sled with " + work.stock.item->title,
                .kind = MotionKind::translation,
                .parts = work.moving,
                .axis = work.request.direction_to_van({0, -1, 0}),
                .origin = {},
                .travel = travel,
                .required = travel,
                .gives_way = {}};
  Removal removal = removal_of(work, motion);
  std::vector<Removal>& removals = work.shop.made().removals;
  std::erase_if(removals, [&](const Removal& other) { return other.id == removal.id; });
  removals.push_back(std::move(removal));
  work.shop.made().motions.push_back(std::move(motion));
}

ModuleParts make_sled(const ModuleRequest& request) {
  Workshop shop{request};
  const Equipment* item =
      held_item(request, request.fields, shop.id("item"), shop.made().findings);
  if (item == nullptr) return shop.finish();
  Joinery joinery{request, shop};
  const SledStock stock = stock_of(request, *item);
  SledWork work{{request, shop, joinery}, stock, sled_sizes(stock)};
  if (!is_usable(work)) return shop.finish();
  add_runners(work);
  add_base(work);
  add_item(work);
  add_clamps(work);
  if (stock.slide != nullptr) add_slides(work);
  fix_runners(work);
  if (work.tray) shop.add(*work.tray);
  joinery.finish();
  check_hold(work);
  let_out(work);
  return shop.finish();
}

/// As large as the equipment on it needs.
std::optional<double> sled_size(const EarlyFields& early, int axis) {
  const auto turns = early.evaluator.number(early.path, "quarter_turns");
  const auto rim = early.evaluator.number(early.path, "rim");
  SledStock stock{.item = held_item(early)};
  if (!turns || !rim || stock.item == nullptr) return std::nullopt;
  stock.turns = static_cast<int>(*turns);
  stock.rim = *rim;
  // False when the field is written and names nothing.
  const auto look_up = [&](const char* field, const auto& entries, auto& found) {
    if (!early.evaluator.has(early.path, field)) return true;
    const auto key = early.evaluator.text(early.path, field);
    const auto at = key ? entries.find(*key) : entries.end();
    if (at == entries.end()) return false;
    found = &at->second;
    return true;
  };
  const Catalogue& all = early.catalogue;
  const bool known = look_up("runner", all.profiles, stock.runner) &&
                     look_up("base", all.sheets, stock.base) &&
                     look_up("clamp", all.fittings, stock.clamp) &&
                     look_up("slide", all.slides, stock.slide);
  stock.sides = stock.base;
  if (!known || !look_up("side_sheet", all.sheets, stock.sides) || stock.runner == nullptr ||
      stock.base == nullptr)
    return std::nullopt;
  const SledSizes sizes = sled_sizes(stock);
  const Vec3 size = item_size(stock);
  if (axis == 0) return size.x + 2 * (sizes.inset + sizes.rim);
  if (axis == 1) {
    const double base = size.y + sizes.clamp.y + 2 * sizes.rim + sizes.stop;
    return stock.slide == nullptr ? base : std::max(base, stock.slide->length);
  }
  const double stop_on = stock.slide == nullptr ? sizes.leg : 0.0;
  return std::max({sizes.base_top + size.z, stop_on + stock.runner->height, sizes.side_top});
}

}  // namespace

Finding SledWork::fault(const char* code, const char* field) const {
  Finding finding = input_error(code, request.fields.place(field));
  finding.subjects = {request.name};
  return finding;
}

Vec3 item_size(const SledStock& stock) {
  const Vec3 size = stock.item->body().size();
  return stock.turns % 2 == 0 ? size : Vec3{size.y, size.x, size.z};
}

SledSizes sled_sizes(const SledStock& stock) {
  const AngleLegs legs = legs_of(*stock.runner);
  SledSizes sizes;
  sizes.leg = legs.thickness;
  sizes.flat = legs.thickness + legs.root;
  if (stock.slide == nullptr) {
    sizes.inset = legs.thickness + std::max(kSideAir, legs.root);
    sizes.lift = sizes.leg;
    sizes.stop = stock.runner->width;
  } else {
    sizes.side = stock.sides->thickness;
    sizes.inset = legs.thickness + stock.slide->thickness + sizes.side;
    sizes.lift = legs.thickness + std::max(kUnderAir, legs.root);
    sizes.side_top = sizes.lift + std::max(stock.slide->height, stock.base->thickness);
  }
  sizes.base_top = sizes.lift + stock.base->thickness;
  sizes.rim = stock.rim > 0.0 ? stock.base->thickness + stock.base->bend_radius : 0.0;
  if (stock.clamp != nullptr)
    sizes.clamp = bounds(body_shape(stock.clamp->boxes, stock.clamp->rounds)).size();
  return sizes;
}

Kind sled_kind() {
  return {
      .name = "sled",
      .schema = module_schema(
          "sled",
          "a carrier for one equipment that slides out at its front, on two runners or on a pair "
          "of slides; by default as large as the equipment needs",
          held_item_fields(
              "what stands on it",
              {count_field("quarter_turns")
                   .otherwise("0")
                   .at_least(0)
                   .at_most(3)
                   .means("of the item, counter-clockwise seen from above"),
               length_field("from_left")
                   .at_least(0)
                   .means("of the item, from the module's left; by default it stands in the middle"),
               length_field("from_front")
                   .at_least(0)
                   .means("of the item, from the module's front; by default it stands at the back, "
                          "on slides at the front"),
               reference_field("base", kBoard).needed().means("what the item stands on"),
               length_field("rim").otherwise("0 mm").at_least(0).means(
                   "height of walls that are folded up all round the base, when it is of sheet "
                   "metal"),
               reference_field("runner", "profile")
                   .needed()
                   .means("an angle: the base slides on its lower leg, beside the upright one; the "
                          "upright one carries the slide"),
               reference_field("screw", kScrewOrBolt)
                   .means("countersunk screw through the runners, and at the back through the stop, "
                          "into what the sled stands on"),
               text_field("into").means(
                   "the part that these screws hold in, as lists name it; without it, the van's "
                   "floor"),
               reference_field("clamp", kClamp)
                   .means("a clamp at each side of the front, that keeps the base in place"),
               reference_field("clamp_screw", kScrewOrBolt)
                   .means("screw of the clamps, through the base and the runner into what the "
                          "sled stands on: undone, the sled is free; needed for them"),
               reference_field("slide", "slide")
                   .means("slides between the runners and sides of the base: the sled stays on them "
                          "when it is out"),
               reference_field("side_sheet", kBoard)
                   .means("of the sides that the slides are screwed to; by default as `base`"),
               reference_field("side_screw", kWoodScrew)
                   .means("wood screw through the sides into the base; needed for slides"),
               reference_field("slide_screw", kWoodScrew)
                   .means("wood screw of the slides into the sides; needed for them"),
               reference_field("slide_bolt", kMachineBolt)
                   .means("machine screw of the slides, its thread cut in the runner; needed for "
                          "them")})),
      .generate = make_sled,
      .default_size = sled_size};
}

}  // namespace ribbay::detail
