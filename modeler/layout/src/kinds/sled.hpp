#pragma once

#include "slide_pair.hpp"

#include <optional>
#include <string>
#include <vector>

/// The sled in parts: sled.cpp reads its fields, sled_runners.cpp makes the angles that it runs on
/// and the stop behind it, sled_base.cpp what slides, sled_slides.cpp the slides and the sides that
/// they carry.
///
///     |       equipment       |
///     |_______________________|
///    | ======== base ========= |
///    |____                 ____|   runners
namespace ribbay::detail {

/// Heights and widths that follow from what the sled is made of, mm.
struct SledSizes {
  double leg = 0.0;    ///< thickness of a runner's leg that lies below the base
  double flat = 0.0;   ///< from the outside of a runner to where that leg is flat
  double side = 0.0;   ///< thickness of a side; 0 without slides
  double inset = 0.0;  ///< from the side of the module to the base
  double lift = 0.0;   ///< underside of the base and its sides
  double base_top = 0.0;
  double rim = 0.0;       ///< from the outside of a folded base to where its floor is flat
  double stop = 0.0;      ///< depth of the stop behind the base; 0 with slides, which stop
  double side_top = 0.0;  ///< top of the sides; 0 without slides
  Vec3 clamp{};           ///< size of a clamp; no size when there is none
};

/// What a sled is made of.
struct SledStock {
  const Equipment* item = nullptr;
  int turns = 0;
  const Profile* runner = nullptr;
  const Sheet* base = nullptr;
  double rim = 0.0;
  const Fitting* clamp = nullptr;  ///< or null
  const Slide* slide = nullptr;    ///< or null: the base slides on the runners
  const Sheet* sides = nullptr;    ///< with slides
};

SledSizes sled_sizes(const SledStock& stock);
/// Footprint and height of the equipment as it stands on the sled.
Vec3 item_size(const SledStock& stock);

/// What the makers of a sled share.
struct SledWork : Carcass {
  SledStock stock;
  SledSizes sizes;
  std::vector<Bar> runners{};       ///< left, right; until all their holes are known
  std::optional<BentBoard> tray{};  ///< instead of a base of board, which the joinery has
  std::vector<std::string> moving{};  ///< ids
  std::vector<std::string> undo{};    ///< ids of the screws that keep it in place

  AskedBy asked(std::string_view field) const { return {request.fields, request.name, field}; }
  Finding fault(const char* code, const char* field) const;
  double base_left() const { return sizes.inset; }
  double base_right() const { return request.size.x - sizes.inset; }
  double base_back() const { return request.size.y - sizes.stop; }
  /// Middle of a clamp from the side of the module.
  double clamp_line() const { return sizes.inset + sizes.rim + sizes.clamp.x / 2; }
  std::string runner(bool left) const { return "runner." + side(left); }
};

/// The runners, the stop behind the base, and their screws into what the sled stands on.
void add_runners(SledWork& work);
void fix_runners(SledWork& work);

/// A screw through a runner, and what lies on it, into what the sled stands on; returns its id.
std::string screw_through_runner(SledWork& work, bool left, const Fastener& screw);

void add_base(SledWork& work);
void add_item(SledWork& work);
/// Clamps at the front of the base, their screws through it and the runners.
void add_clamps(SledWork& work);

/// Sides of the base, and the slides between them and the runners.
void add_slides(SledWork& work);

}  // namespace ribbay::detail
