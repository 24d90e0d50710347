#include "structure/materials.hpp"

#include "base/tolerance.hpp"
#include "layout/wood.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace ribbay {

namespace {

/// Largest differences of anodic index in ordinary and in harsh surroundings, V; from memory.
constexpr double kNormalVolts = 0.25;
constexpr double kHarshVolts = 0.15;
constexpr const char* kVoltsSource =
    "anodic index: limits 0.25 V in ordinary, 0.15 V in wet and salty surroundings, after "
    "MIL-STD-889 (from memory)";

/// What glue and wood give way across the grain, mm. Common practice, no source.
constexpr double kGlueGives = 0.5;

const Material* material_of(const Layout& layout, const Part& part) {
  const auto found = layout.catalogue->materials.find(part.material);
  return found == layout.catalogue->materials.end() ? nullptr : &found->second;
}

std::vector<const Part*> parts_of(const Layout& layout, const Joint& joint) {
  std::vector<const Part*> parts;
  for (const auto* ids : {&joint.parts, &joint.hardware}) {
    for (const std::string& id : *ids) {
      if (const Part* part = layout.find(id)) parts.push_back(part);
    }
  }
  return parts;
}

template <class Visit>
void for_each_pair(const std::vector<const Part*>& parts, Visit visit) {
  for (std::size_t i = 0; i < parts.size(); ++i) {
    for (std::size_t j = i + 1; j < parts.size(); ++j) visit(*parts[i], *parts[j]);
  }
}

// -- metals that touch ----------------------------------------------------------------------------

bool is_coated(const Part& part) {
  return std::ranges::any_of(part.coverings, [](const Covering& c) { return c.face && c.back; });
}

bool touch(const Part& a, const Part& b) {
  return near(bounds(a), bounds(b), kContact) && !is_coated(a) && !is_coated(b);
}

void check_metals(const Layout& layout, Findings& findings) {
  struct Met {
    const Joint* joint = nullptr;
    const Part* a = nullptr;
    const Part* b = nullptr;
    double volts = 0.0;
    int joints = 0;
  };
  std::map<std::pair<std::string, std::string>, Met> pairs;
  for (const Joint& joint : layout.joints) {
    for_each_pair(parts_of(layout, joint), [&](const Part& a, const Part& b) {
      const Material* one = material_of(layout, a);
      const Material* other = material_of(layout, b);
      if (one == nullptr || other == nullptr || !one->anodic_index || !other->anodic_index) return;
      const double volts = std::abs(*one->anodic_index - *other->anodic_index);
      if (volts <= kHarshVolts + kSame || !touch(a, b)) return;
      Met& met = pairs[std::minmax(one->title, other->title)];
      if (met.joint == nullptr) met = {&joint, &a, &b, volts, 0};
      ++met.joints;
    });
  }
  for (const auto& [titles, met] : pairs) {
    Finding finding;
    finding.code = "material.dissimilar_metals";
    const bool bad = met.volts > kNormalVolts + kSame;
    finding.severity = bad ? Severity::warning : Severity::note;
    finding.subjects = {met.a->id, met.b->id, met.joint->id};
    finding.source = kVoltsSource;
    finding.with("a", titles.first)
        .with("b", titles.second)
        .with("measured", rounded_text(met.volts, 2) + " V")
        .with("required", rounded_text(bad ? kNormalVolts : kHarshVolts, 2) + " V")
        .with("count", met.joints, Unit::count);
    findings.push_back(std::move(finding));
  }
}

// -- unequal expansion ----------------------------------------------------------------------------

/// Screws and bolts that go through the same two parts.
struct Held {
  std::vector<Vec3> at;
  double play = 0.0;  ///< of the tightest hole, mm
};

double longest(const std::vector<Vec3>& points) {
  double most = 0.0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = i + 1; j < points.size(); ++j)
      most = std::max(most, length(points[i] - points[j]));
  }
  return most;
}

std::map<std::pair<std::string, std::string>, Held> held_pairs(const Layout& layout) {
  std::map<std::pair<std::string, std::string>, Held> pairs;
  for (const Part& fastener : layout.parts) {
    const auto bolt = layout.catalogue->bolts.find(fastener.stock.key);
    if (bolt == layout.catalogue->bolts.end()) continue;
    const double play = std::max(bolt->second.clearance_hole - bolt->second.diameter, 0.0);
    for (std::size_t i = 0; i < fastener.hosts.size(); ++i) {
      for (std::size_t j = i + 1; j < fastener.hosts.size(); ++j) {
        Held& held = pairs[std::minmax(fastener.hosts[i], fastener.hosts[j])];
        held.play = held.at.empty() ? play : std::min(held.play, play);
        held.at.push_back(fastener.frame.origin);
      }
    }
  }
  return pairs;
}

void check_expansion(const Layout& layout, Findings& findings) {
  for (const auto& [ids, held] : held_pairs(layout)) {
    const Part* a = layout.find(ids.first);
    const Part* b = layout.find(ids.second);
    if (a == nullptr || b == nullptr || a == b) continue;
    const Material* one = material_of(layout, *a);
    const Material* other = material_of(layout, *b);
    if (one == nullptr || other == nullptr) continue;
    if (one->expansion <= 0.0 || other->expansion <= 0.0) continue;
    const double apart = longest(held.at);
    const double warming = layout.climate.warmest - layout.climate.coldest;
    const double growth = apart * std::abs(one->expansion - other->expansion) * warming;
    if (growth <= held.play + kSame) continue;
    Finding finding;
    finding.code = "material.expansion";
    finding.severity = Severity::warning;
    finding.subjects = {a->id, b->id};
    finding.at = held.at.front();
    finding.source = "coldest and warmest of [project]; by default common practice, no source";
    finding.with("along", apart, Unit::mm)
        .with("coldest", celsius_text(layout.climate.coldest))
        .with("warmest", celsius_text(layout.climate.warmest))
        .with("measured", growth, Unit::mm)
        .with("required", held.play, Unit::mm);
    findings.push_back(std::move(finding));
  }
}

// -- wood that is glued ---------------------------------------------------------------------------

/// Movement of a part of solid wood across its grain, per mm and percent point; 0 for others.
double coefficient_of(const Layout& layout, const Part& part) {
  const Material* material = material_of(layout, part);
  if (material == nullptr) return 0.0;
  const Catalogue& stock = *layout.catalogue;
  if (const auto plank = stock.planks.find(part.stock.key);
      part.kind == PartKind::plank && plank != stock.planks.end())
    return movement_coefficient(*material, plank->second.quarter_sawn);
  if (const auto sheet = stock.sheets.find(part.stock.key);
      part.kind == PartKind::panel && sheet != stock.sheets.end())
    return movement_coefficient(*material, sheet->second.quarter_sawn);
  return 0.0;
}

/// How far a part reaches along a unit direction in the van.
std::pair<double, double> extent(const Part& part, Vec3 way) {
  const Box box = bounds(*part.shape);
  double lo = 0.0;
  double hi = 0.0;
  for (int i = 0; i < 8; ++i) {
    const Vec3 corner{i & 1 ? box.hi.x : box.lo.x, i & 2 ? box.hi.y : box.lo.y,
                      i & 4 ? box.hi.z : box.lo.z};
    const double at = dot(part.frame.point(corner), way);
    lo = i == 0 ? at : std::min(lo, at);
    hi = i == 0 ? at : std::max(hi, at);
  }
  return {lo, hi};
}

/// Wood `a` moves across its grain, along its y; `b` does so too only with its grain the same way.
void check_glued(const Layout& layout, const Joint& joint, const Part& a, const Part& b,
                 Findings& findings) {
  const double coefficient = coefficient_of(layout, a);
  if (coefficient <= 0.0) return;
  const Vec3 across = a.frame.y;
  const bool moves_too =
      coefficient_of(layout, b) > 0.0 && std::abs(dot(b.frame.x, across)) < std::sqrt(0.5);
  if (moves_too) return;
  const auto [a_lo, a_hi] = extent(a, across);
  const auto [b_lo, b_hi] = extent(b, across);
  const double width = std::min(a_hi, b_hi) - std::max(a_lo, b_lo);
  const double points = layout.climate.wettest - layout.climate.driest;
  const double movement = wood_movement(width, coefficient, points);
  if (movement <= kGlueGives + kSame) return;
  Finding finding;
  finding.code = "material.glued_across";
  finding.severity = Severity::warning;
  finding.subjects = {a.id, b.id, joint.id};
  finding.source =
      "Wood Handbook, FPL-GTR-190, equation 13-2 and table 13-5; 0.5 mm: common practice, no source";
  finding.with("width", width, Unit::mm)
      .with("driest", layout.climate.driest, Unit::percent)
      .with("wettest", layout.climate.wettest, Unit::percent)
      .with("measured", movement, Unit::mm)
      .with("required", kGlueGives, Unit::mm);
  findings.push_back(std::move(finding));
}

}  // namespace

Findings check_materials(const Layout& layout) {
  Findings findings;
  if (!layout.catalogue) return findings;
  check_metals(layout, findings);
  check_expansion(layout, findings);
  for (const Joint& joint : layout.joints) {
    if (!joint.glued) continue;
    for_each_pair(parts_of(layout, joint), [&](const Part& a, const Part& b) {
      check_glued(layout, joint, a, b, findings);
      check_glued(layout, joint, b, a, findings);
    });
  }
  return findings;
}

}  // namespace ribbay
