#pragma once

/// Prints how long planning the assembly of 350 members takes.
void order_of_a_large_frame();
