#pragma once

/// Checks from scratch against checks after one change with what was worked out before, in memory.
void one_change_after_another();
