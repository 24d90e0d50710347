#pragma once

#include "layout/layout.hpp"

#include <string>

/// Hinges and slides, taken as two halves that meet.
namespace ribbay::detail {

/// The joint that a half of a hinge or slide belongs to; null when none names it.
const Joint* joint_of(const Layout& layout, const std::string& half);

bool slides(const Joint& joint);

/// What opens by the joint: of the motions of its first part one that leaves the other behind.
const Motion* opens_by(const Layout& layout, const Joint& joint);

}  // namespace ribbay::detail
