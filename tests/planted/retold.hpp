#pragma once

#include "layout/layout.hpp"

namespace ribbay::planted {

/// The scene 10 m further: along the van with its van, or along all axes without one.
Layout shifted(Layout layout);

/// Its image across the plane y = 0, with its van.
Layout mirrored(Layout layout);

/// Every name another one, so that the order of parts, motions and modules is turned round.
Layout renamed(Layout layout);

}  // namespace ribbay::planted
