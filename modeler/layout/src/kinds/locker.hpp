#pragma once

#include "carcass.hpp"

#include <vector>

/// The locker in parts: locker.cpp reads its fields, locker_carcass.cpp makes what stands still,
/// locker_fronts.cpp what opens.
namespace ribbay::detail {

/// A straight stretch of the locker's back, at the wall; (y, z) in module axes.
struct Facet {
  Vec2 from;     ///< lower end
  Vec2 along;    ///< unit, upwards
  Vec2 outward;  ///< unit, to the wall
  double length = 0.0;
};

/// A layer of the back in one facet, from `near` to `far` inside the wall line: where it lies along
/// the facet when its square ends keep clear of what is beside it.
struct LayerSpan {
  double from = 0.0;
  double to = 0.0;
};

/// What the parts of a locker have in common; module axes.
///
///     0 .. front .. + buffer ............................ wall     (y)
///          fronts    uprights, bottoms, tops | back | rails
struct LockerPlan {
  const Sheet* sheet = nullptr;
  const Sheet* front = nullptr;
  const Sheet* rail = nullptr;
  const Sheet* back = nullptr;  ///< null: the wall is its back
  const Finish* band = nullptr;
  double t = 0.0;              ///< of the sheet
  double carcass_front = 0.0;  ///< y of the uprights' front edges
  double gap = 0.0;            ///< between fronts
  double rail_height = 0.0;
  double dado = 0.0;
  double bottom_rear = 0.0;  ///< y where the bottoms end
  double top_rear = 0.0;
  std::vector<Vec2> wall;  ///< what the wall leaves over the whole width
  std::vector<Facet> facets;
  std::vector<Bay> bays;

  /// Thickness of rails and back together.
  double lining() const { return rail->thickness + (back != nullptr ? back->thickness : 0.0); }
};

struct LockerWork : Carcass {
  const LockerPlan& plan;
  AskedBy asked(const Bay& bay, std::string_view field) const {
    return {*bay.fields, request.name + ".bays." + bay.key, field};
  }
  double height() const { return request.size.z; }
};

/// Straight stretches under a wall line from z0 to z1, evenly divided; none reaches past the line.
std::vector<Facet> divide_back(const std::vector<Vec2>& wall, double z0, double z1, int count);

/// Where a layer lies in a facet, between z0 and z1 at the ends of the row.
LayerSpan span_of(const std::vector<Facet>& facets, std::size_t index, double near, double far,
                  double z0, double z1);

void make_locker_carcass(const LockerWork& work);
void make_locker_front(const LockerWork& work, const Bay& bay);

}  // namespace ribbay::detail
