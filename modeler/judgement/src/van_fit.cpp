#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "judges.hpp"

#include <algorithm>
#include <map>

namespace ribbay::detail {

namespace {

/// Less needs no packing: a bolt pulls it close. Common practice, no source.
constexpr double kPulledClose = 0.5;

/// Can be planed to the wall.
bool can_be_scribed(const Part& part) {
  return (part.kind == PartKind::panel && !part.flat) || part.kind == PartKind::plank;
}

std::string what_to_measure(const NearPair& pair) {
  const auto mm = [](double value) { return length_text(value, LengthStyle::millimetres); };
  const std::string x = " at x " + mm(pair.at.x);
  const std::string side = pair.at.y > 0.0 ? "left" : "right";
  if (main_axis(pair.way) == 2) return "height of " + pair.b + x + ", y " + mm(pair.at.y);
  if (main_axis(pair.way) == 0) return "where " + pair.b + " lies along the van, z " + mm(pair.at.z);
  return "half width to the " + side + " up to " + pair.b + x + ", z " + mm(pair.at.z);
}

/// True when what holds the part fills what is left.
bool held_off(const Chains& chains, std::size_t part, const Layout& layout) {
  return layout.catalogue && chains.any_held(part, [&](const Part& holder) {
    const auto fitting = layout.catalogue->fittings.find(holder.stock.key);
    return fitting != layout.catalogue->fittings.end() &&
           (fitting->second.use == "magnet" || fitting->second.use == "clip");
  });
}

VanFit judged(const Layout& layout, const NearPair& pair, const Chains& chains,
              const Stacks& stacks) {
  const std::size_t i = chains.index(pair.a);
  const Part& part = chains.part(i);
  VanFit fit;
  fit.module = part.module;
  fit.part = part.id;
  fit.place = place_at_van(pair.b, pair.at);
  fit.body = pair.b;
  fit.gap = pair.distance;
  fit.uncertainty = survey_off(layout, pair);
  fit.bow = part.spring_in;
  fit.at = pair.at;
  const double most = std::max(fit.gap + fit.uncertainty, 0.0);
  const double room = fit.gap + fit.bow + kSame;
  if (held_off(chains, i, layout)) {
    fit.allowance = std::max(fit.uncertainty - fit.bow, 0.0);
    if (fit.allowance > kPulledClose) fit.verdict = FitVerdict::shim;
  } else if (chains.fastened_to_van(i)) {
    if (most > kPulledClose) fit.verdict = FitVerdict::shim;
    fit.allowance = most;
  } else if (can_be_scribed(part)) {
    if (room < stacks.of(pair).worst) fit.verdict = FitVerdict::scribe;
    fit.allowance = most;
  } else if (room < fit.uncertainty) {
    fit.verdict = FitVerdict::measure;
    fit.measure = what_to_measure(pair);
  }
  if (fit.verdict == FitVerdict::fits) fit.allowance = 0.0;
  return fit;
}

/// What needs more work counts, then what is nearer.
bool worse(const VanFit& a, const VanFit& b) {
  if (a.verdict != b.verdict) return a.verdict > b.verdict;
  return a.gap - a.uncertainty < b.gap - b.uncertainty;
}

}  // namespace

std::string place_at_van(const std::string& body, Vec3 at) {
  if (body.starts_with("vehicle/rib."))
    return at.y > 0.0 ? "vehicle/ribs.left" : "vehicle/ribs.right";
  return body.starts_with("vehicle/bow.") ? "vehicle/bows" : body;
}

std::vector<VanFit> judge_van(const Layout& layout, const NearResult& near, const Chains& chains,
                              const Stacks& stacks) {
  std::map<std::pair<std::string, std::string>, VanFit> places;
  for (const NearPair& pair : near.pairs) {
    if (!of_van(pair.b) || is_floor(pair.b) || beyond(pair.distance, kNear)) continue;
    VanFit fit = judged(layout, pair, chains, stacks);
    const auto [at, fresh] = places.try_emplace({fit.module, fit.place}, fit);
    if (!fresh && worse(fit, at->second)) at->second = std::move(fit);
  }
  std::vector<VanFit> fits;
  for (auto& [place, fit] : places) fits.push_back(std::move(fit));
  return fits;
}

}  // namespace ribbay::detail
