#include "tallies.hpp"

#include <algorithm>
#include <set>

namespace ribbay::detail {

namespace {

std::size_t count_code(const Findings& findings, std::string_view code) {
  return static_cast<std::size_t>(std::ranges::count(findings, code, &Finding::code));
}

std::size_t count_proven(const Findings& findings, std::string_view code) {
  return static_cast<std::size_t>(std::ranges::count_if(findings, [&](const Finding& finding) {
    return finding.code == code && finding.status == Status::fail;
  }));
}

/// Of pairs of bodies: one finding may stand for many.
std::size_t count_clashes(const ClearanceResult& result) {
  return static_cast<std::size_t>(
      std::ranges::count(result.contacts, Verdict::clash, &Contact::verdict));
}

/// Several findings may belong to one gap or zone; its name is the argument `named`.
std::size_t count_distinct(const Findings& findings,
                           std::initializer_list<std::string_view> codes, std::string_view named) {
  std::set<std::variant<std::string, double>> names;
  for (const Finding& finding : findings) {
    const bool counts = std::ranges::find(codes, finding.code) != codes.end();
    const Argument* name = counts ? finding.argument(named) : nullptr;
    if (name != nullptr) names.insert(name->value);
  }
  return names.size();
}

CheckTally tally(std::string name, std::size_t total, std::size_t failed,
                 std::size_t not_proven = 0) {
  return {std::move(name), total - std::min(total, failed + not_proven), failed, not_proven};
}

}  // namespace

std::vector<CheckTally> clearance_tallies(const Layout& layout, const ClearanceResult& result) {
  const Findings& findings = result.findings;
  std::size_t pairs = 0;
  std::size_t pairs_proven = 0;
  for (const char* code : {"clearance.pair", "clearance.pair_beyond"}) {
    pairs += count_code(findings, code);
    pairs_proven += count_proven(findings, code);
  }
  return {
      tally("pairs of bodies", result.pairs,
            count_clashes(result) + count_code(findings, "clearance.tight"),
            count_code(findings, "clearance.undecided")),
      tally("parts in the room", layout.parts.size(), count_code(findings, "clearance.outside")),
      tally("gaps asked for", layout.gaps.size(), count_distinct(findings, {"clearance.gap"}, "gap")),
      tally("free spaces", layout.zones.size(), count_distinct(findings, {"clearance.zone"}, "zone")),
      tally(
          "drawers and doors", layout.motions.size(),
          count_code(findings, "clearance.motion") + count_code(findings, "clearance.motion_held")),
      tally("gaps on their way", layout.motions.size(),
            count_distinct(findings, {"clearance.tight_way", "clearance.gap_way"}, "motion")),
      tally("two of them at once", result.motion_pairs, pairs_proven, pairs - pairs_proven),
  };
}

}  // namespace ribbay::detail
