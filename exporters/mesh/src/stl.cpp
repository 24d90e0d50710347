#include "mesh/stl.hpp"

#include "rounded_mesh.hpp"

#include <assimp/Exporter.hpp>
#include <assimp/scene.h>

#include <algorithm>
#include <array>
#include <memory>
#include <string>

namespace ribbay {

namespace {

constexpr std::size_t kHeader = 80;

/// Letters and digits of ASCII kept, runs of anything else become one '-'.
std::string file_name(const std::string& text) {
  std::string name;
  for (const char c : text) {
    const bool plain =
        (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
    if (plain) {
      name += c;
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  if (name.ends_with('-')) name.pop_back();
  return name;
}

/// A scene with one mesh, each triangle with corners of its own so that it can have its own normal.
std::unique_ptr<aiScene> scene_of(const TriMesh& mesh) {
  auto scene = std::make_unique<aiScene>();
  scene->mRootNode = new aiNode("part");
  scene->mNumMaterials = 1;
  scene->mMaterials = new aiMaterial* [1] { new aiMaterial };
  scene->mNumMeshes = 1;
  scene->mMeshes = new aiMesh* [1] { new aiMesh };
  scene->mRootNode->mNumMeshes = 1;
  scene->mRootNode->mMeshes = new unsigned[1]{0};

  aiMesh& out = *scene->mMeshes[0];
  const auto triangles = static_cast<unsigned>(mesh.triangles.size());
  out.mPrimitiveTypes = aiPrimitiveType_TRIANGLE;
  out.mNumVertices = 3 * triangles;
  out.mVertices = new aiVector3D[out.mNumVertices];
  out.mNormals = new aiVector3D[out.mNumVertices];
  out.mNumFaces = triangles;
  out.mFaces = new aiFace[triangles];
  const auto single = [](Vec3 p) {
    return aiVector3D(static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z));
  };
  for (unsigned t = 0; t < triangles; ++t) {
    std::array<Vec3, 3> corners;
    std::ranges::transform(mesh.triangles[t], corners.begin(),
                           [&](int i) { return mesh.points[static_cast<std::size_t>(i)]; });
    const Vec3 normal = cross(corners[1] - corners[0], corners[2] - corners[0]);
    const Vec3 unit = length(normal) > 0.0 ? normalized(normal) : Vec3{};
    out.mFaces[t].mNumIndices = 3;
    out.mFaces[t].mIndices = new unsigned[3]{3 * t, 3 * t + 1, 3 * t + 2};
    for (unsigned k = 0; k < 3; ++k) {
      out.mVertices[3 * t + k] = single(corners[k]);
      out.mNormals[3 * t + k] = single(unit);
    }
  }
  return scene;
}

/// Binary STL, or an empty string when the library refuses.
std::string stl_bytes(const TriMesh& mesh, const std::string& title) {
  const std::unique_ptr<aiScene> scene = scene_of(mesh);
  Assimp::Exporter exporter;
  const aiExportDataBlob* blob = exporter.ExportToBlob(scene.get(), "stlb");
  if (blob == nullptr || blob->size < kHeader) return {};
  std::string bytes(static_cast<const char*>(blob->data), blob->size);
  // A header that begins with "solid" would pass for text.
  std::string header = "ribbay, unit mm: ";
  for (const char c : title) header += c >= ' ' && c <= '~' ? c : '?';
  header.resize(kHeader, ' ');
  return bytes.replace(0, kHeader, header);
}

Finding about(const char* code, const std::string& part_id) {
  Finding finding;
  finding.code = code;
  finding.subjects = {part_id};
  return finding;
}

}  // namespace

Built<OutputFiles> stl_parts(const Layout& layout, const SolidSet& solids,
                             const StlOptions& options) {
  Built<OutputFiles> built;
  for (const PartType& type : part_types(layout)) {
    const Part& part = layout.parts[type.parts.front()];
    const Solid* solid = solids.of(type.parts.front());
    if (solid == nullptr) continue;
    Result<TriMesh> mesh = tessellate(*solid, options.deflection, options.angle);
    if (mesh) mesh = detail::rounded_mesh(*mesh);
    if (!mesh || !is_closed(*mesh)) {
      built.findings.push_back(about("solid.open_mesh", part.id));
      continue;
    }
    const std::string title = type.mark + " " + part.title;
    std::string bytes = stl_bytes(*mesh, title);
    if (bytes.empty()) {
      built.findings.push_back(about("mesh.not_written", part.id));
      continue;
    }
    built.value.push_back({"model/stl/" + file_name(title) + ".stl", std::move(bytes),
                           "surface of part " + title + " in mm, for printing and viewing"});
  }
  return built;
}

}  // namespace ribbay
