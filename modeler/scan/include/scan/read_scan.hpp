#pragma once

#include "base/result.hpp"
#include "scan/mesh.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace ribbay {

/// Stated limits: more is an error, never a hang or gigabytes.
struct ScanLimits {
  std::size_t triangles = 4'000'000;
  std::size_t nodes = 10'000;   ///< of the tree of a .glb file
  std::size_t node_depth = 50;  ///< levels of that tree
};

/// The unit that a format states by itself, mm: a .glb file is in metres (Khronos glTF 2.0, 3.4:
/// "The units for all linear distances are meters"); the other formats leave it open.
std::optional<double> stated_unit(std::string_view path);

/// Reads the triangles of a scan, told by the ending of `path`: .glb, .obj, .ply or .stl, in text
/// or binary. `unit` is the length of its unit, mm. All meshes of the scene are brought to its
/// place; polygons are divided into triangles; colours, textures and other files are never looked
/// at. Axes are those of the file.
///
/// Errors, without a place: "scan.format", "scan.not_read", "scan.cut_short", "scan.no_triangles",
/// "scan.not_finite", "scan.bad_index", "scan.too_many", "scan.compressed", "scan.other_file".
Result<ScanMesh> read_scan(std::string_view bytes, const std::string& path, double unit,
                           const ScanLimits& limits = {});

}  // namespace ribbay
