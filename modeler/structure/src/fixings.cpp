#include "structure/fixings.hpp"

#include "base/tolerance.hpp"
#include "layout/metal.hpp"
#include "shape/plate_edges.hpp"
#include "structure/grips.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace ribbay {

namespace {

/// Least distance of two stretches in space, by walking from each to the other's nearest point.
double distance(Vec3 a, Vec3 along_a, Vec3 b, Vec3 along_b) {
  const double aa = dot(along_a, along_a);
  const double bb = dot(along_b, along_b);
  const double ab = dot(along_a, along_b);
  const Vec3 off = a - b;
  const double apart = aa * bb - ab * ab;
  const auto share = [](double up, double down) { return std::clamp(up / down, 0.0, 1.0); };
  double s =
      apart > kSame * aa * bb ? share(ab * dot(along_b, off) - bb * dot(along_a, off), apart) : 0.0;
  const double t = share(dot(along_b, off) + s * ab, bb);
  s = share(t * ab - dot(along_a, off), aa);
  return length(off + along_a * s - along_b * t);
}

class Checker {
 public:
  explicit Checker(const Layout& layout) : layout_{layout} {}

  Findings run() {
    for (const Grip& grip : grips(layout_)) {
      screw_ = layout_.find(grip.id);
      bolt_ = &layout_.catalogue->bolts.find(screw_->stock.key)->second;
      judge(grip);
      if (bolt_->kind != BoltKind::wood) continue;
      judge_edges();
      judge_neighbours();
      wood_screws_.push_back({screw_, bolt_});
    }
    Findings findings;
    for (const Told& told : told_) {
      findings.push_back(told.finding);
      findings.back().with("count", told.count, Unit::count);
    }
    return findings;
  }

 private:
  struct Told {
    Finding finding;
    std::string host;  ///< title
    double measured = 0.0;
    int count = 0;
  };

  void judge(const Grip& grip) {
    const Part* into = layout_.find(grip.into);
    if (bolt_->kind == BoltKind::wood && into != nullptr && is_made(into->kind)) {
      const auto material = layout_.catalogue->materials.find(into->material);
      if (material != layout_.catalogue->materials.end() && is_metal(material->second))
        return tell("fixing.wood_screw_in_metal", into, grip.held, 0.0);
    }
    if (grip.verdict != GripVerdict::too_short) return;
    if (!grip.thread.empty() && !grip.under_floor)
      return tell("fixing.short_for_nut", nullptr, bolt_->length, grip.shortest);
    if (grip.held <= kContact)
      tell("fixing.holds_nothing", into, bolt_->length, grip.shortest);
    else if (!is_nut(into) && !grip.under_floor)
      tell("fixing.too_short", into, bolt_->length, grip.shortest);
  }

  /// A bolt that does not fill a slot nut is told where it is laid out.
  bool is_nut(const Part* part) const {
    return part != nullptr && layout_.catalogue->nuts.contains(part->stock.key);
  }

  void judge_edges() {
    for (const std::string& id : screw_->hosts) {
      const Part* host = layout_.find(id);
      if (host == nullptr || (host->kind != PartKind::panel && host->kind != PartKind::plank))
        continue;
      const double wanted = kScrewToEdge * bolt_->diameter;
      for (const PlacedPrism& placed : host->shape->prisms) {
        const Frame frame = host->frame * placed.frame;
        if (std::abs(dot(frame.z, screw_->frame.z)) < 1.0 - kSame) continue;
        const Vec3 at = frame.local_point(screw_->frame.origin);
        const double edge = to_edge(placed.prism, {at.x, at.y});
        const Box box = bounds(Shape{{{placed.prism, {}}}});
        const bool inside =
            at.x > box.lo.x && at.x < box.hi.x && at.y > box.lo.y && at.y < box.hi.y;
        if (inside && edge < wanted - kContact) tell("fixing.near_edge", host, edge, wanted);
      }
    }
  }

  void judge_neighbours() {
    for (const auto& [other, bolt] : wood_screws_) {
      const bool together = std::ranges::any_of(screw_->hosts, [&](const std::string& id) {
        if (std::ranges::find(other->hosts, id) == other->hosts.end()) return false;
        const Part* host = layout_.find(id);
        return host != nullptr && is_made(host->kind);
      });
      if (!together) continue;
      const double wanted = kBetweenScrews * std::max(bolt_->diameter, bolt->diameter);
      const double between = distance(screw_->frame.origin, screw_->frame.z * bolt_->length,
                                      other->frame.origin, other->frame.z * bolt->length) -
                             (bolt_->diameter + bolt->diameter) / 2;
      if (between < wanted - kContact)
        tell("fixing.screws_meet", other, std::max(between, 0.0), wanted);
    }
  }

  void tell(const char* code, const Part* host, double measured, double required) {
    const std::string title = host == nullptr ? std::string() : host->title;
    for (Told& told : told_) {
      if (told.finding.code != code || told.host != title ||
          std::get<std::string>(told.finding.argument("stock")->value) != bolt_->key ||
          layout_.find(told.finding.subjects.front())->module != screw_->module ||
          std::abs(told.measured - measured) > 0.05)
        continue;
      ++told.count;
      return;
    }
    Finding finding;
    finding.code = code;
    if (finding.code == "fixing.near_edge" || finding.code == "fixing.screws_meet" ||
        finding.code == "fixing.too_short")
      finding.severity = Severity::warning;
    finding.source = "common practice, no source";
    finding.subjects = {screw_->id};
    if (host != nullptr) finding.subjects.push_back(host->id);
    finding.at = screw_->frame.origin;
    if (const Module* module = layout_.module(screw_->module)) finding.place = module->place;
    finding.with("stock", bolt_->key)
        .with("measured", measured, Unit::mm)
        .with("required", required, Unit::mm);
    told_.push_back({std::move(finding), title, measured, 1});
  }

  const Layout& layout_;
  const Part* screw_ = nullptr;
  const Bolt* bolt_ = nullptr;
  std::vector<std::pair<const Part*, const Bolt*>> wood_screws_;  ///< that were looked at before
  std::vector<Told> told_;
};

}  // namespace

Findings check_fixings(const Layout& layout) {
  if (!layout.catalogue) return {};
  return Checker(layout).run();
}

}  // namespace ribbay
