#include "imports/read_body.hpp"

#include "base/messages.hpp"
#include "scan/read_scan.hpp"
#include "step_surface.hpp"

#include <algorithm>
#include <array>

namespace ribbay {

namespace {

using detail::Surface;

bool ends_like(std::string_view path, std::string_view ending) {
  if (path.size() < ending.size()) return false;
  return std::ranges::equal(path.substr(path.size() - ending.size()), ending, {}, [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
}

bool is_step(std::string_view path) {
  return ends_like(path, ".step") || ends_like(path, ".stp");
}

bool is_mesh(std::string_view path) {
  constexpr std::array<std::string_view, 4> kMeshes{".glb", ".obj", ".ply", ".stl"};
  return std::ranges::any_of(kMeshes, [&](std::string_view e) { return ends_like(path, e); });
}

/// What the reader of scans says, of a file that is none.
std::string reason_of(const Finding& finding) {
  constexpr std::string_view kScan = "the scan";
  std::string words = message_text(finding, LengthStyle::millimetres);
  for (auto at = words.find(kScan); at != std::string::npos; at = words.find(kScan, at + 1)) {
    words.replace(at, kScan.size(), "the file");
  }
  return words;
}

Result<Surface> mesh_surface(std::string_view bytes, const std::string& path, double unit) {
  const ScanLimits limits{.triangles = ClosedMeshLimits{}.triangles};
  Result<ScanMesh> mesh = read_scan(bytes, path, unit, limits);
  if (mesh) return Surface{std::move(mesh->points), std::move(mesh->triangles)};
  return fail(input_error("import.not_read", {}).with("reason", reason_of(mesh.error().front())));
}

}  // namespace

bool states_body_unit(std::string_view path) {
  return is_step(path) || stated_unit(path);
}

bool y_is_up(std::string_view path) {
  return ends_like(path, ".glb");
}

Result<std::shared_ptr<const ClosedMesh>> read_body(std::string_view bytes, const std::string& path,
                                                    std::optional<double> unit) {
  if (!is_step(path) && !is_mesh(path)) return fail(input_error("import.format", {}));
  Result<Surface> surface =
      is_step(path) ? detail::step_surface(bytes, unit)
                    : mesh_surface(bytes, path, unit.value_or(stated_unit(path).value_or(1.0)));
  if (!surface) return fail(surface.error());
  return close_mesh(std::move(surface->points), std::move(surface->triangles));
}

}  // namespace ribbay
