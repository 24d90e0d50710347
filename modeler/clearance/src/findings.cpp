#include "findings.hpp"

#include "base/text.hpp"

namespace ribbay::detail {

namespace {

Finding make(std::string code, Severity severity, std::vector<std::string> subjects, Vec3 at) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = severity;
  finding.subjects = std::move(subjects);
  finding.at = at;
  return finding;
}

}  // namespace

Finding clash_finding(const Contact& clash, bool way_is_free,
                      const std::optional<std::string>& finishes) {
  Finding finding = make(finishes ? "clearance.finish" : "clearance.clash", Severity::error,
                         {clash.a, clash.b}, clash.at)
                        .with("measured", -clash.separation, Unit::mm)
                        .with("required", 0.0, Unit::mm)
                        .with("volume", clash.volume, Unit::mm3);
  if (finishes) finding.with("finishes", *finishes);
  if (way_is_free) finding.with("way", way_text(clash.way));
  return finding;
}

Finding modules_finding(const Finding& deepest, const std::pair<std::string, std::string>& modules,
                        std::size_t others, const std::optional<ModuleWay>& way) {
  Finding finding = deepest;
  finding.code = "clearance.modules";
  std::erase_if(finding.arguments, [](const Argument& each) { return each.name == "way"; });
  finding.with("first", modules.first).with("second", modules.second);
  finding.with("others", static_cast<double>(others), Unit::count);
  if (way) {
    finding.with("moves", way->module)
        .with("by", -way->way.separation, Unit::mm)
        .with("way", way_text(way->way.way));
  }
  return finding;
}

Finding tight_finding(const Contact& tight, double required) {
  return make("clearance.tight", Severity::warning, {tight.a, tight.b}, tight.at)
      .with("measured", tight.separation, Unit::mm)
      .with("required", required, Unit::mm);
}

Finding gap_finding(const Gap& gap, const Contact& nearest) {
  const double measured = std::max(nearest.separation, 0.0);
  Finding finding = make("clearance.gap", Severity::error, {nearest.a, nearest.b}, nearest.at)
                        .with("gap", gap.id)
                        .with("measured", measured, Unit::mm)
                        .with("required", gap.required, Unit::mm)
                        .with("missing", gap.required - measured, Unit::mm);
  finding.place = gap.place;
  return finding;
}

Finding zone_finding(const Zone& zone, const Contact& clash, bool way_is_free) {
  Finding finding = make("clearance.zone", Severity::error,
                         {clash.a, zone.owner.empty() ? zone.id : zone.owner}, clash.at)
                        .with("zone", zone.id)
                        .with("title", zone.title.empty() ? zone.id : zone.title)
                        .with("measured", -clash.separation, Unit::mm)
                        .with("required", 0.0, Unit::mm);
  if (way_is_free) finding.with("way", way_text(clash.way));
  return finding;
}

Finding outside_finding(const Part& part, Vec3 at, const Vehicle& vehicle) {
  return make("clearance.outside", Severity::error, {part.id}, at)
      .with("x", at.x, Unit::mm)
      .with("y", at.y, Unit::mm)
      .with("z", at.z, Unit::mm)
      .with("from", vehicle.x_min(), Unit::mm)
      .with("to", vehicle.x_max(), Unit::mm);
}

Finding scan_finding(const std::string& part, const ScanContact& contact, double uncertainty) {
  return make("clearance.scan", Severity::error, {part}, contact.at)
      .with("measured", contact.depth, Unit::mm)
      .with("required", uncertainty, Unit::mm)
      .with("way", way_text(contact.way));
}

Finding scan_touch_finding(const std::string& part, const ScanContact& contact, double uncertainty,
                           std::size_t count) {
  Finding finding = make("clearance.scan_touch", Severity::note, {part}, contact.at)
                        .with("measured", contact.depth, Unit::mm)
                        .with("required", uncertainty, Unit::mm)
                        .with("count", static_cast<double>(count), Unit::count);
  finding.status = Status::pass;
  return finding;
}

Finding in_the_air_finding(const Layout& layout, const Body& part, std::size_t others) {
  const Module* module = layout.module(part.part->module);
  return make("clearance.in_the_air", Severity::error, {part.id, part.part->module},
              part.box.centre())
      .with("with", others == 0 ? ""
                                : " with " + std::to_string(others) + " other" +
                                      (others == 1 ? " part" : " parts"))
      .with("kind", module == nullptr ? "custom" : module->kind);
}

Finding not_whole_finding(const Part& part, std::size_t bodies, Vec3 at) {
  return make("clearance.not_whole", Severity::error, {part.id}, at)
      .with("bodies", static_cast<double>(bodies), Unit::count)
      .with("x", at.x, Unit::mm)
      .with("y", at.y, Unit::mm)
      .with("z", at.z, Unit::mm);
}

Finding screw_finding(const Part& screw, const std::string& host, double out, Vec3 tip) {
  return make("clearance.screw_out", Severity::warning, {screw.id, host}, tip)
      .with("stock", screw.stock.key)
      .with("measured", out, Unit::mm);
}

Finding bed_finding(const std::string& bed, const std::string& against, Vec3 at) {
  return make("clearance.bed_gap", Severity::warning, {bed, against}, at);
}

Finding undecided_finding(const std::string& a, const std::string& b, double depth, Vec3 at) {
  Finding finding = make("clearance.undecided", Severity::warning, {a, b}, at)
                        .with("measured", depth, Unit::mm)
                        .with("required", 0.0, Unit::mm);
  finding.status = Status::not_proven;
  return finding;
}

}  // namespace ribbay::detail
