#pragma once

#include "solids/tri_mesh.hpp"

#include <nlohmann/json.hpp>

#include <map>
#include <string>
#include <utility>

namespace ribbay::detail {

/// A glTF 2.0 file in the making. Things are added once and addressed by the index that comes back.
/// Keys stand in the order in which they were written, so the same calls give the same bytes.
class GltfFile {
 public:
  using Json = nlohmann::ordered_json;

  /// Points (mm) and triangles, stored in metres and single precision. The index is good for
  /// add_mesh().
  int add_surface(const TriMesh& mesh);
  /// A matt material. `colour` is "#rrggbb" (sRGB), grey when it is not; below 1, `opacity` shows
  /// through and both sides are seen.
  int add_material(const std::string& colour, double opacity = 1.0);
  int add_mesh(int surface, int material);
  /// A node as JSON; empty lists must be left out, as the format asks.
  int add_node(Json node);

  /// The whole file with `root` as the only node of its scene.
  std::string bytes(int root) const;

 private:
  int add_accessor(Json accessor, int target, const std::string& data);

  std::string buffer_;
  Json views_ = Json::array();
  Json accessors_ = Json::array();
  Json materials_ = Json::array();
  Json meshes_ = Json::array();
  Json nodes_ = Json::array();
  std::map<std::pair<std::string, double>, int> known_materials_;
  std::map<std::pair<int, int>, int> known_meshes_;
};

/// Translation (metres) and rotation (unit quaternion x, y, z, w) of a frame, those that are not
/// zero.
GltfFile::Json placement(const Frame& frame);

}  // namespace ribbay::detail
