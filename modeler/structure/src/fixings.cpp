#include "structure/fixings.hpp"

#include "base/tolerance.hpp"
#include "layout/metal.hpp"
#include "structure/grips.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

namespace ribbay {

namespace {

double distance(Vec2 point, const Side& side) {
  const Vec2 way = side.b - side.a;
  if (side.arc) {
    // The arc lies beyond its chord, seen from its centre; elsewhere its ends are nearest.
    const Vec2 out = point - side.centre;
    if (length(out) < kSame) return side.radius;
    const Vec2 on = side.centre + out * (side.radius / length(out));
    if (cross(way, on - side.a) * cross(way, side.centre - side.a) <= 0.0) return length(point - on);
    return std::min(length(point - side.a), length(point - side.b));
  }
  const double along = std::clamp(dot(point - side.a, way) / dot(way, way), 0.0, 1.0);
  return length(point - (side.a + way * along));
}

/// From a point to the nearest edge of a plate: of its outline, or of what is cut through it.
double to_edge(const Prism& plate, Vec2 point) {
  double least = std::numeric_limits<double>::infinity();
  const auto look = [&](const Loop& loop) {
    for (const Side& side : sides(loop)) least = std::min(least, distance(point, side));
  };
  look(plate.section.outer);
  for (const Loop& hole : plate.section.holes) look(hole);
  for (const Cut& cut : plate.cuts) {
    if (cut.from < kSame && cut.to > plate.height - kSame) look(cut.outline);
  }
  return least;
}

class Checker {
 public:
  explicit Checker(const Layout& layout) : layout_{layout} {}

  Findings run() {
    for (const Grip& grip : grips(layout_)) {
      screw_ = layout_.find(grip.id);
      bolt_ = &layout_.catalogue->bolts.find(screw_->stock.key)->second;
      judge(grip);
      if (bolt_->kind == BoltKind::wood) judge_edges();
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
    if (grip.held <= kContact) tell("fixing.holds_nothing", into, bolt_->length, grip.shortest);
  }

  void judge_edges() {
    for (const std::string& id : screw_->hosts) {
      const Part* host = layout_.find(id);
      if (host == nullptr || (host->kind != PartKind::panel && host->kind != PartKind::plank)) continue;
      const double wanted = kScrewToEdge * bolt_->diameter;
      for (const PlacedPrism& placed : host->shape->prisms) {
        const Frame frame = host->frame * placed.frame;
        if (std::abs(dot(frame.z, screw_->frame.z)) < 1.0 - kSame) continue;
        const Vec3 at = frame.local_point(screw_->frame.origin);
        const double edge = to_edge(placed.prism, {at.x, at.y});
        const Box box = bounds(Shape{{{placed.prism, {}}}});
        const bool inside = at.x > box.lo.x && at.x < box.hi.x && at.y > box.lo.y && at.y < box.hi.y;
        if (inside && edge < wanted - kContact) tell("fixing.near_edge", host, edge, wanted);
      }
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
    if (finding.code == "fixing.near_edge") finding.severity = Severity::warning;
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
  std::vector<Told> told_;
};

}  // namespace

Findings check_fixings(const Layout& layout) {
  if (!layout.catalogue) return {};
  return Checker(layout).run();
}

}  // namespace ribbay
