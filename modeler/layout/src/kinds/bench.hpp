#pragma once

#include "carcass.hpp"

#include <vector>

/// The bench in parts: bench.cpp reads its fields and fixes it to the floor, bench_box.cpp makes
/// the box, bench_lids.cpp what lies on it.
namespace ribbay::detail {

/// What the parts of a bench have in common; module axes.
///
///     0 .. t ........................... D - t .. D     (y)
///     front      uprights, bottoms         back
///
///     0 .. bottom ............... box_top .. H          (z)
///          bottoms  storage                lids
struct BenchPlan {
  const Sheet* sheet = nullptr;
  const Sheet* bottom = nullptr;
  const Sheet* lid = nullptr;
  const Finish* band = nullptr;
  double t = 0.0;        ///< of the sheet
  double box_top = 0.0;  ///< z of the lids' undersides
  double back = 0.0;     ///< y of the back's inner face
  double dado = 0.0;
  std::vector<Bay> bays;
  struct Arch {
    Box box;              ///< a wheel arch with the gap kept from it, without its bottom and back
    double radius = 0.0;  ///< of the rounded ends of its top, seen from the side
    double edge = 0.0;    ///< of its inboard edge, seen from behind
  };
  std::vector<Arch> arches;
};

struct BenchWork : Carcass {
  const BenchPlan& plan;
  AskedBy asked(const Bay& bay, std::string_view field) const {
    return {*bay.fields, request.name + ".bays." + bay.key, field};
  }
  /// True when a screw at this place would stand in a cut for a wheel arch.
  bool in_arch(Vec3 at) const;
};

/// False after saying that a board has nothing left beside a wheel arch.
bool make_box(const BenchWork& work);
void make_lids(const BenchWork& work);

}  // namespace ribbay::detail
