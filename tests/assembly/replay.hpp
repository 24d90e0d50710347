#pragma once

#include "assembly/assembly.hpp"
#include "shape/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

/// Puts a plan together again, step by step, with simpler means than those that made it: sampled
/// positions and sampled points of a driver's axis. Returns what went wrong, in words.
namespace ribbay::testing {

/// What counts as touching: arcs are covered by up to 0.05 mm on both sides.
inline constexpr double kReplaySlack = 0.2;

using PlacedPieces = std::vector<ConvexPiece>;

inline std::map<std::string, PlacedPieces> placed_parts(const Layout& layout) {
  std::map<std::string, PlacedPieces> all;
  for (const Part& part : layout.parts) {
    for (const ConvexPiece& piece : pieces(part.body()))
      all[part.id].push_back(placed(piece, part.frame));
  }
  return all;
}

/// Depth of a point in a convex piece: least distance to its faces' planes; negative outside.
inline double depth_in(const ConvexPiece& piece, Vec3 p) {
  double least = 1e9;
  for (const Vec3& n : piece.normals) {
    double lo = 1e18;
    double hi = -1e18;
    for (const Vec3& v : piece.vertices) {
      lo = std::min(lo, dot(v, n));
      hi = std::max(hi, dot(v, n));
    }
    least = std::min({least, hi - dot(p, n), dot(p, n) - lo});
  }
  return least;
}

/// Overlap depth of two pieces, one moved by `by`, over face normals and edge products.
inline double overlap_depth(const ConvexPiece& a, Vec3 by, const ConvexPiece& b) {
  double least = 1e9;
  const auto test = [&](Vec3 n) {
    const double size = length(n);
    if (size < 1e-6 || least <= kReplaySlack) return;
    double alo = 1e18, ahi = -1e18, blo = 1e18, bhi = -1e18;
    for (const Vec3& v : a.vertices) {
      const double d = dot(v + by, n) / size;
      alo = std::min(alo, d);
      ahi = std::max(ahi, d);
    }
    for (const Vec3& v : b.vertices) {
      const double d = dot(v, n) / size;
      blo = std::min(blo, d);
      bhi = std::max(bhi, d);
    }
    least = std::min({least, ahi - blo, bhi - alo});
  };
  for (const Vec3& n : a.normals) test(n);
  for (const Vec3& n : b.normals) test(n);
  for (const Vec3& e : a.edges) {
    for (const Vec3& f : b.edges) test(cross(e, f));
  }
  return least;
}

inline bool boxes_meet(const Box& a, Vec3 by, const Box& b) {
  for (int i = 0; i < 3; ++i) {
    if (a.lo[i] + by[i] > b.hi[i] - kReplaySlack || b.lo[i] > a.hi[i] + by[i] - kReplaySlack)
      return false;
  }
  return true;
}

inline bool meet(const PlacedPieces& a, Vec3 by, const PlacedPieces& b) {
  for (const ConvexPiece& p : a) {
    for (const ConvexPiece& q : b) {
      if (boxes_meet(p.box, by, q.box) && overlap_depth(p, by, q) > kReplaySlack) return true;
    }
  }
  return false;
}

/// True when a bore of the part runs along the bolt's axis.
inline bool bored(const Part& part, const Part& bolt) {
  for (const PlacedPrism& prism : part.shape->prisms) {
    for (const Bore& bore : prism.prism.bores) {
      const Vec3 at = part.frame.point(prism.frame.point(bore.at)) - bolt.frame.origin;
      if (length(at - bolt.frame.z * dot(at, bolt.frame.z)) < 0.5) return true;
    }
  }
  return false;
}

/// Where a step's things are `back` mm before they are in their place: along the way of its last
/// stretch, and then, when it comes another way first, along that.
inline Vec3 off_by(const AssemblyStep& step, double back) {
  if (length(step.first) < 0.5 || back <= step.travel) return step.direction * -back;
  return step.direction * -step.travel + step.first * (step.travel - back);
}
inline double way_of(const AssemblyStep& step) {
  return length(step.first) < 0.5 ? step.clear : step.travel + step.clear;
}

inline std::vector<std::string> replay(const Layout& layout, const AssemblyPlan& plan) {
  std::vector<std::string> faults;
  const std::map<std::string, PlacedPieces> all = placed_parts(layout);
  std::map<std::string, int> driven;
  std::map<std::string, int> nuts;
  std::set<std::string> nuts_in;

  for (const AssemblyUnit& unit : plan.units) {
    std::vector<std::string> there;
    const auto drive = [&](const Driven& each) {
      ++driven[each.id];
      const Part& bolt = *layout.find(each.id);
      for (const std::string& host : bolt.hosts) {
        const Part* nut = layout.find(host);
        if (nut != nullptr && layout.catalogue->nuts.contains(nut->stock.key) &&
            !nuts_in.contains(host))
          faults.push_back(each.id + ": its nut is not in its slot yet");
      }
      if (each.reach != Reach::straight) return;
      // Points of the driver's axis, from the head outwards.
      const double head = bounds(*bolt.shape).lo.z;
      for (double out = 1.0; out < 60.0; out += 1.0) {
        const Vec3 p = bolt.frame.point({0, 0, head - out});
        for (const std::string& id : there) {
          if (bored(*layout.find(id), bolt)) continue;
          for (const ConvexPiece& piece : all.at(id)) {
            if (depth_in(piece, p) > kReplaySlack) {
              faults.push_back(each.id + ": " + id + " stands in its driver's way");
              return;
            }
          }
        }
      }
    };
    for (const AssemblyStep& step : unit.steps) {
      for (const NutRun& run : step.nuts) {
        if (std::ranges::find(there, run.member) != there.end())
          faults.push_back(run.member + ": nuts come after it is in its place");
        for (std::size_t i = 0; i < run.nuts.size(); ++i) {
          ++nuts[run.nuts[i]];
          nuts_in.insert(run.nuts[i]);
          // The one that goes in first goes furthest.
          if (i > 0 && run.places[i] > run.places[i - 1] + 1e-9)
            faults.push_back(run.nuts[i] + ": would have to pass another nut");
        }
      }
      if (step.straight) {
        for (const std::string& mover : step.parts) {
          for (const std::string& other : there) {
            // What overlaps in its place is another check's matter.
            if (meet(all.at(mover), {}, all.at(other))) continue;
            for (double back = 0.0; back <= way_of(step); back += 2.0) {
              if (!meet(all.at(mover), off_by(step, back), all.at(other))) continue;
              faults.push_back(mover + ": runs into " + other + " on its way");
              break;
            }
          }
        }
      }
      there.insert(there.end(), step.parts.begin(), step.parts.end());
      std::ranges::for_each(step.fasteners, drive);
    }
    std::ranges::for_each(unit.fixings, drive);
  }

  std::map<std::string, int> placed_once;
  for (const AssemblyUnit& unit : plan.units) {
    for (const AssemblyStep& step : unit.steps) {
      // A subassembly comes once more, as one, in its module.
      if (unit.name == unit.module) {
        for (const std::string& id : step.parts) ++placed_once[id];
      }
    }
  }
  for (const Part& part : layout.parts) {
    if (part.kind != PartKind::hardware) {
      if (placed_once[part.id] != 1) faults.push_back(part.id + ": is not placed once");
    } else if (layout.catalogue->nuts.contains(part.stock.key) && nuts[part.id] != 1) {
      faults.push_back(part.id + ": is not put into a slot once");
    } else if (driven[part.id] > 1) {
      faults.push_back(part.id + ": is driven twice");
    }
  }
  return faults;
}

}  // namespace ribbay::testing
