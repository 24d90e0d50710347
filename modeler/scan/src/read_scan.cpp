#include "scan/read_scan.hpp"

#include "preflight.hpp"

#include <assimp/BaseImporter.h>
#include <assimp/IOStream.hpp>
#include <assimp/IOSystem.hpp>
#include <assimp/Importer.hpp>
#include <assimp/importerdesc.h>
#include <assimp/scene.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>

namespace ribbay {

using namespace detail;

namespace {

enum class Format { glb, obj, ply, stl };

std::optional<Format> format_of(std::string_view path) {
  std::string ending = std::filesystem::path(path).extension().string();
  std::ranges::transform(ending, ending.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  if (ending == ".glb") return Format::glb;
  if (ending == ".obj") return Format::obj;
  if (ending == ".ply") return Format::ply;
  if (ending == ".stl") return Format::stl;
  return std::nullopt;
}

std::string_view ending_of(Format format) {
  switch (format) {
    case Format::glb:
      return "glb";
    case Format::obj:
      return "obj";
    case Format::ply:
      return "ply";
    case Format::stl:
      return "stl";
  }
  return {};
}

/// The bytes of the scan, read only.
class BytesStream : public Assimp::IOStream {
 public:
  explicit BytesStream(std::string_view bytes) : bytes_(bytes) {}

  std::size_t Read(void* buffer, std::size_t size, std::size_t count) override {
    if (size == 0) return 0;
    const std::size_t whole = std::min(count, (bytes_.size() - at_) / size);
    std::memcpy(buffer, bytes_.data() + at_, whole * size);
    at_ += whole * size;
    return whole;
  }
  std::size_t Write(const void*, std::size_t, std::size_t) override { return 0; }
  aiReturn Seek(std::size_t offset, aiOrigin origin) override {
    const std::size_t base = origin == aiOrigin_SET   ? 0
                             : origin == aiOrigin_CUR ? at_
                                                      : bytes_.size();
    if (offset > bytes_.size() - std::min(base, bytes_.size())) return aiReturn_FAILURE;
    at_ = base + offset;
    return aiReturn_SUCCESS;
  }
  std::size_t Tell() const override { return at_; }
  std::size_t FileSize() const override { return bytes_.size(); }
  void Flush() override {}

 private:
  std::string_view bytes_;
  std::size_t at_ = 0;
};

/// A disk with one file on it: what a scan says about other files is never followed.
class OneFile : public Assimp::IOSystem {
 public:
  OneFile(std::string name, std::string_view bytes) : name_(std::move(name)), bytes_(bytes) {}

  bool Exists(const char* path) const override { return path == name_; }
  char getOsSeparator() const override { return '/'; }
  Assimp::IOStream* Open(const char* path, const char*) override {
    return path == name_ ? new BytesStream(bytes_) : nullptr;  // the importer gives it to Close
  }
  void Close(Assimp::IOStream* stream) override { delete stream; }

 private:
  std::string name_;
  std::string_view bytes_;
};

/// Leaves only the importers for one ending.
void keep_importers(Assimp::Importer& importer, std::string_view ending) {
  for (std::size_t i = importer.GetImporterCount(); i-- > 0;) {
    const std::string_view all = importer.GetImporterInfo(i)->mFileExtensions;
    if (all.find(ending) != std::string_view::npos) continue;
    Assimp::BaseImporter* other = importer.GetImporter(i);
    importer.UnregisterLoader(other);
    delete other;
  }
}

/// A row of numbers of the importer's, as vectors in double precision.
struct Placement {
  Vec3 x{1, 0, 0};
  Vec3 y{0, 1, 0};
  Vec3 z{0, 0, 1};
  Vec3 origin;

  Vec3 direction(Vec3 v) const { return x * v.x + y * v.y + z * v.z; }
  Vec3 point(Vec3 p) const { return origin + direction(p); }
  bool mirrors() const { return dot(cross(x, y), z) < 0.0; }
};

Placement operator*(const Placement& outer, const aiMatrix4x4& m) {
  return {outer.direction({m.a1, m.b1, m.c1}), outer.direction({m.a2, m.b2, m.c2}),
          outer.direction({m.a3, m.b3, m.c3}), outer.point({m.a4, m.b4, m.c4})};
}

/// The mesh, if it has triangles and all its points lie somewhere.
Result<ScanMesh> sound(ScanMesh mesh) {
  if (mesh.triangles.empty()) return fail(scan_error("scan.no_triangles"));
  const auto wrong = std::ranges::count_if(mesh.points, [](Vec3 p) {
    return !std::isfinite(p.x) || !std::isfinite(p.y) || !std::isfinite(p.z);
  });
  if (wrong == 0) return mesh;
  return fail(scan_error("scan.not_finite")
                  .with("count", static_cast<double>(wrong), Unit::count)
                  .with("points", static_cast<double>(mesh.points.size()), Unit::count));
}

/// Gathers the triangles of all nodes.
class Gatherer {
 public:
  Gatherer(const aiScene& scene, double unit, const ScanLimits& limits)
      : scene_(scene), unit_(unit), limits_(limits) {}

  Result<ScanMesh> gather() {
    add_node(*scene_.mRootNode, {}, 0);
    if (fault_) return fail(*fault_);
    return sound(std::move(mesh_));
  }

 private:
  void add_node(const aiNode& node, const Placement& around, std::size_t depth) {
    if (depth > limits_.node_depth + 2) return;  // the importer puts a root or two above
    const Placement here = around * node.mTransformation;
    for (unsigned i = 0; i < node.mNumMeshes && !fault_; ++i) {
      add_mesh(*scene_.mMeshes[node.mMeshes[i]], here);
    }
    for (unsigned i = 0; i < node.mNumChildren && !fault_; ++i) {
      add_node(*node.mChildren[i], here, depth + 1);
    }
  }

  void add_mesh(const aiMesh& mesh, const Placement& here) {
    const auto first = static_cast<std::uint32_t>(mesh_.points.size());
    if (mesh_.points.size() + mesh.mNumVertices > 3 * limits_.triangles) {
      fault_ = too_many(mesh_.triangles.size() + mesh.mNumFaces, limits_.triangles);
      return;
    }
    for (unsigned i = 0; i < mesh.mNumVertices; ++i) {
      const aiVector3D& v = mesh.mVertices[i];
      mesh_.points.push_back(here.point({v.x, v.y, v.z}) * unit_);
    }
    const bool mirrored = here.mirrors();
    for (unsigned i = 0; i < mesh.mNumFaces; ++i) {
      const aiFace& face = mesh.mFaces[i];
      for (unsigned k = 0; k < face.mNumIndices; ++k) {
        if (face.mIndices[k] < mesh.mNumVertices) continue;
        fault_ = bad_index(face.mIndices[k], mesh.mNumVertices);
        return;
      }
      for (unsigned k = 2; k < face.mNumIndices; ++k) {
        const std::uint32_t b = first + face.mIndices[k - 1];
        const std::uint32_t c = first + face.mIndices[k];
        mesh_.triangles.push_back({first + face.mIndices[0], mirrored ? c : b, mirrored ? b : c});
      }
      if (mesh_.triangles.size() > limits_.triangles) {
        fault_ = too_many(mesh_.triangles.size(), limits_.triangles);
        return;
      }
    }
  }

  const aiScene& scene_;
  double unit_;
  const ScanLimits& limits_;
  ScanMesh mesh_;
  std::optional<Finding> fault_;
};

Result<ScanMesh> import(std::string_view bytes, Format format, double unit,
                        const ScanLimits& limits) {
  const std::string name = "scan." + std::string(ending_of(format));
  try {
    Assimp::Importer importer;
    keep_importers(importer, ending_of(format));
    importer.SetIOHandler(new OneFile(name, bytes));  // the importer owns it
    const aiScene* scene = importer.ReadFile(name, 0);
    if (scene == nullptr || scene->mRootNode == nullptr) {
      return fail(scan_error("scan.not_read").with("reason", importer.GetErrorString()));
    }
    return Gatherer(*scene, unit, limits).gather();
  } catch (const std::exception& e) {
    return fail(scan_error("scan.not_read").with("reason", e.what()));
  }
}

}  // namespace

std::optional<double> stated_unit(std::string_view path) {
  if (format_of(path) == Format::glb) return 1000.0;
  return std::nullopt;
}

Result<ScanMesh> read_scan(std::string_view bytes, const std::string& path, double unit,
                           const ScanLimits& limits) {
  const auto format = format_of(path);
  if (!format) return fail(scan_error("scan.format"));
  if (*format == Format::obj) {
    const Findings faults = check_obj(bytes, limits);
    if (!faults.empty()) return fail(faults);
    return import(bytes, *format, unit, limits);
  }
  if (*format == Format::ply) {
    Result<ScanMesh> mesh = read_ply(bytes, limits);
    if (!mesh) return mesh;
    for (Vec3& p : mesh->points) p = p * unit;
    return sound(std::move(*mesh));
  }
  const Result<std::string> plain =
      *format == Format::glb ? plain_glb(bytes, limits) : plain_stl(bytes, limits);
  if (!plain) return fail(plain.error());
  return import(*plain, *format, unit, limits);
}

}  // namespace ribbay
