#include "base/tolerance.hpp"
#include "sled.hpp"
#include "tray_form.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// Drills the base from above.
void drill_base(SledWork& work, const Bolt& screw, Vec3 at) {
  const Sheet& sheet = *work.stock.base;
  at.z = work.sizes.base_top;
  const Hole hole = clearance_hole(screw, at, {0, 0, -1}, sheet.thickness);
  if (!work.tray) return work.joinery.drill("base", hole);
  const Vec3 local = at - work.tray->frame.origin;
  work.tray->sheet_metal.flats.front().bores.push_back({.at = {local.x, local.y, sheet.thickness},
                                                        .direction = {0, 0, -1},
                                                        .diameter = hole.diameter,
                                                        .depth = hole.depth,
                                                        .through = true});
}

/// Reports screws of a clamp that miss the runner or do not hold below it.
void check_clamp(const SledWork& work, const Bolt& screw, double from_side, double through) {
  const double d = screw.diameter;
  const double least = work.sizes.flat + d / 2;
  const double most = work.stock.runner->width - d;
  if (from_side < least - kSame || from_side > most + kSame) {
    work.shop.find(work.fault("sled.clamp_off", "clamp")
                       .with("stock", work.stock.clamp->key)
                       .with("measured", from_side, Unit::mm)
                       .with("least", least, Unit::mm)
                       .with("required", most, Unit::mm));
  }
  const double wanted = through + kScrewHold * d;
  if (screw.length >= wanted - kSame) return;
  work.shop.find(work.fault("sled.clamp_screw", "clamp_screw")
                     .with("stock", screw.key)
                     .with("measured", screw.length, Unit::mm)
                     .with("required", wanted, Unit::mm)
                     .with("through", through, Unit::mm));
}

}  // namespace

void add_base(SledWork& work) {
  const Sheet& sheet = *work.stock.base;
  const Box box{{work.base_left(), 0, work.sizes.lift},
                {work.base_right(), work.base_back(), work.sizes.base_top}};
  if (work.stock.rim > 0.0) {
    work.tray = BentBoard{.name = "base",
                          .title = "Sled base",
                          .sheet = &sheet,
                          .frame = {box.lo},
                          .sheet_metal = tray_sheet({.size = {box.size().x, box.size().y,
                                                              work.stock.rim},
                                                     .thickness = sheet.thickness,
                                                     .radius = sheet.bend_radius,
                                                     .k_factor = sheet.k_factor,
                                                     .walls = {true, true, true, true},
                                                     .lip = 0.0,
                                                     .relief = sheet.thickness,
                                                     .gap = kTrayCornerGap}),
                          .kind = PartKind::folded};
  } else {
    work.joinery.add({.name = "base",
                      .title = "Sled base",
                      .sheet = &sheet,
                      .box = box,
                      .normal = {0, 0, 1},
                      .along = {0, 1, 0},
                      .cuts = {},
                      .holes = {}});
  }
  const std::string id = work.shop.id("base");
  work.moving.push_back(id);
  if (work.stock.slide != nullptr) return;
  for (const bool left : {true, false}) {
    const std::string runner = work.runner(left);
    work.shop.join("joint.base.on." + runner, "slides", {id, work.shop.id(runner)});
  }
  work.shop.join("joint.base.to.stop", "rests against", {id, work.shop.id("stop")});
}

void add_item(SledWork& work) {
  const Record& fields = work.request.fields;
  const Vec3 size = item_size(work.stock);
  // On slides it stands in front, so that it comes out as far as it can; else at the stop.
  const double y = work.stock.slide != nullptr
                       ? work.sizes.clamp.y
                       : work.base_back() - work.sizes.rim - size.y;
  const Vec3 at{fields.number_if("from_left")
                    .value_or((work.base_left() + work.base_right() - size.x) / 2),
                fields.number_if("from_front").value_or(y), work.sizes.base_top};
  const std::string id = work.shop.add_equipment("item", *work.stock.item, at, work.stock.turns);
  work.moving.push_back(id);
  work.shop.join("joint.item", "held on the sled", {id, work.shop.id("base")});
  for (Zone& zone : work.shop.made().zones)  // what carries it may reach into its air
    zone.allowed.insert(zone.allowed.end(), {work.request.name});
  const double past =
      work.sizes.rim + std::max({work.base_left() - at.x, at.x + size.x - work.base_right(), -at.y,
                                 at.y + size.y - work.base_back()});
  if (past > kSame) {
    work.shop.find(
        work.fault("sled.item_beside", fields.has("from_left") ? "from_left" : "from_front")
            .with("measured", past, Unit::mm));
  }
  const Slide* slide = work.stock.slide;
  if (slide == nullptr || slide->travel >= at.y + size.y - kSame) return;
  Finding finding = work.fault("sled.short_travel", "slide");
  finding.severity = Severity::warning;
  work.shop.find(std::move(finding.with("stock", slide->key)
                               .with("measured", slide->travel, Unit::mm)
                               .with("required", at.y + size.y, Unit::mm)));
}

void add_clamps(SledWork& work) {
  if (work.stock.clamp == nullptr || !names_item(work, work.asked("clamp"), "clamp_screw")) return;
  const Fitting& clamp = *work.stock.clamp;
  const Bolt& screw =
      entry(work.request.catalogue.bolts, work.request.fields.text("clamp_screw"));
  const double in = work.clamp_line();
  for (const bool left : {true, false}) {
    const Vec3 at{left ? in : work.request.size.x - in, work.sizes.rim + work.sizes.clamp.y / 2,
                  work.sizes.base_top};
    const std::string name = "clamp." + work.side(left);
    std::vector<std::string> hardware{work.shop.add_fitting(name, clamp, {at}, {"base"})};
    work.moving.push_back(hardware.front());
    for (const FixingHole& hole : clamp.holes) {
      const Vec3 head = at + hole.at;
      if (left) check_clamp(work, screw, head.x, head.z);
      drill_base(work, screw, head);
      hardware.push_back(screw_through_runner(work, left,
                                              {.name = name + ".screw." + hole.name,
                                               .bolt = &screw,
                                               .at = head,
                                               .direction = {0, 0, -1},
                                               .hosts = {name, "base"}}));
      work.moving.push_back(hardware.back());
      work.undo.push_back(hardware.back());
    }
    work.shop.join("joint." + name, "clamped",
                   {work.shop.id("base"), work.shop.id(work.runner(left))}, std::move(hardware));
  }
}

}  // namespace ribbay::detail
