#pragma once

#include "shape/closed_mesh.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace ribbay {

/// True when a format states its unit of length by itself: STEP files (ISO 10303-21) and .glb files
/// (metres: Khronos glTF 2.0, 3.3); the other formats leave it open.
bool states_body_unit(std::string_view path);

/// Whether the format says that y points up, as .glb files do (Khronos glTF 2.0, 3.3).
bool y_is_up(std::string_view path);

/// Reads a closed body, told by the ending of `path`: .step, .stp, .glb, .obj, .ply or .stl. `unit`
/// is the length of the file's unit, mm; nullopt: as the file states it, and mm where it does not.
/// Axes are those of the file. Curved faces of a STEP file
/// are covered with chords that leave them by no more than 0.02 mm.
///
/// Errors, without a place: those of close_mesh(), "import.format", and "import.not_read" with the
/// reason.
Result<std::shared_ptr<const ClosedMesh>> read_body(std::string_view bytes, const std::string& path,
                                                    std::optional<double> unit = {});

}  // namespace ribbay
