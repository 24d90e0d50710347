#pragma once

#include "bodies.hpp"
#include "clearance/clearance.hpp"
#include "clearance/scan_contact.hpp"

#include <optional>
#include <string>
#include <utility>

namespace ribbay::detail {

/// The way out of a clash is advised only when it is free.
/// `finishes`: those without which there would be no clash.
Finding clash_finding(const Contact& clash, bool way_is_free,
                      const std::optional<std::string>& finishes);
/// How a module gets out of another one: `way.separation` is as far below 0 as it has to move.
struct ModuleWay {
  std::string module;
  Contact way;
};
/// Of two modules that stand in each other: `deepest` is the clash of two of their parts, `others`
/// more clash.
Finding modules_finding(const Finding& deepest, const std::pair<std::string, std::string>& modules,
                        std::size_t others, const std::optional<ModuleWay>& way);
Finding tight_finding(const Contact& tight, double required);
Finding gap_finding(const Gap& gap, const Contact& nearest);
/// `clash` is the overlap of part a with the zone.
Finding zone_finding(const Zone& zone, const Contact& clash, bool way_is_free);
Finding outside_finding(const Part& part, Vec3 at, const Vehicle& vehicle);
Finding scan_finding(const std::string& part, const ScanContact& contact, double uncertainty);
/// `count` parts touch the scan, this one the deepest.
Finding scan_touch_finding(const std::string& part, const ScanContact& contact, double uncertainty,
                           std::size_t count);
/// Nothing holds the part, nor `others` that it hangs together with.
Finding in_the_air_finding(const Layout& layout, const Body& part, std::size_t others);
/// `bodies` are left of the part, the smallest about `at`.
Finding not_whole_finding(const Part& part, std::size_t bodies, Vec3 at);
/// A screw whose tip stands `out` of its host.
Finding screw_finding(const Part& screw, const std::string& host, double out, Vec3 tip);
/// Beside a bed somebody might be caught against `against`; its sizes are still missing.
Finding bed_finding(const std::string& bed, const std::string& against, Vec3 at);
/// Arcs cannot be covered finely enough to tell whether the bodies overlap; `depth` is the most it
/// can be.
Finding undecided_finding(const std::string& a, const std::string& b, double depth, Vec3 at);

}  // namespace ribbay::detail
