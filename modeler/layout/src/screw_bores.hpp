#pragma once

#include "layout/layout.hpp"
#include "workshop.hpp"

/// What screws need in the parts that they sit in, once everything is placed: parts of one module are
/// screwed to those of another, so no kind can bore it all.
namespace ribbay::detail {

/// The recess in which a head ends flush with the surface at `at`; a countersink for a countersunk
/// one.
Hole head_recess(const Bolt& screw, Vec3 at, Vec3 direction);

/// Adds to flat parts and members, where a screw or bolt goes through or into them:
/// - a countersink for a countersunk head, in the hole that it is to lie flush in, unless there is one
///   or the part is no thicker than the head;
/// - a pilot for the end of a wood screw in wood that nothing is bored in there; it goes as deep as
///   the screw.
/// Bent sheet is bored in the flat by its own kind. Parts are sorted by id; bores keep the order of
/// the screws' ids.
void bore_for_screws(Layout& layout);

}  // namespace ribbay::detail
