#pragma once

#include "layout/layout.hpp"

/// Prints how long views of 200 bodies take, and all drawings of a layout with their files, in processor
/// time of one thread.
void views_and_drawings(const ribbay::Layout& layout);
