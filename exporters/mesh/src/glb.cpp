#include "mesh/glb.hpp"

#include "gltf_file.hpp"
#include "solids/tri_mesh.hpp"
#include "vehicle/vehicle.hpp"
#include "vehicle_surface.hpp"

#include <algorithm>
#include <optional>
#include <vector>

namespace ribbay {

namespace {

using detail::GltfFile;
using Json = GltfFile::Json;

/// From van axes (x forward, y left, z up) to glTF's (z forward, x left, y up).
constexpr Frame kGltfAxes{{}, {0, 0, 1}, {1, 0, 0}, {0, 1, 0}};
constexpr const char* kVehicleColour = "#9fb4c7";
constexpr double kVehicleOpacity = 0.25;

/// A surface for every solid that some part uses; nothing where it could not be closed.
std::vector<std::optional<int>> add_surfaces(const Layout& layout, const SolidSet& solids,
                                             const GlbOptions& options, GltfFile& file,
                                             Findings& findings) {
  std::vector<std::optional<int>> surfaces(solids.solids.size());
  std::vector<bool> seen(solids.solids.size());
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    if (!solids.of_part[i] || seen[*solids.of_part[i]]) continue;
    const std::size_t solid = *solids.of_part[i];
    seen[solid] = true;
    const Result<TriMesh> mesh =
        tessellate(solids.solids[solid], options.deflection, options.angle);
    if (mesh) {
      surfaces[solid] = file.add_surface(*mesh);
      continue;
    }
    for (Finding finding : mesh.error()) {
      finding.subjects = {layout.parts[i].id};
      findings.push_back(std::move(finding));
    }
  }
  return surfaces;
}

Json part_extras(const Layout& layout, const Part& part, const std::string& mark) {
  Json extras{
      {"id", part.id}, {"title", part.title}, {"kind", name(part.kind)}, {"module", part.module}};
  if (!part.material.empty()) {
    const bool known = layout.catalogue && layout.catalogue->materials.contains(part.material);
    extras["material"] =
        known ? layout.catalogue->materials.at(part.material).title : part.material;
  }
  if (!mark.empty()) extras["mark"] = mark;
  return extras;
}

/// A node called `name` over `children`, if there are any.
std::optional<int> add_group(GltfFile& file, const std::string& name,
                             const std::vector<int>& children, Json node = Json::object()) {
  if (children.empty()) return std::nullopt;
  node["name"] = name;
  node["children"] = children;
  return file.add_node(std::move(node));
}

struct ModuleParts {
  std::string name;
  std::vector<int> nodes;
};

/// A node for every part, by module in the order of the parts.
std::vector<ModuleParts> add_parts(const Layout& layout, const SolidSet& solids,
                                   const std::vector<std::optional<int>>& surfaces,
                                   GltfFile& file) {
  std::vector<std::string> marks(layout.parts.size());
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t part : type.parts) marks[part] = type.mark;
  }
  std::vector<ModuleParts> modules;
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    if (!solids.of_part[i] || !surfaces[*solids.of_part[i]]) continue;
    Json node{{"name", part.id}};
    node["mesh"] = file.add_mesh(*surfaces[*solids.of_part[i]], file.add_material(part.colour));
    node.update(detail::placement(part.frame));
    node["extras"] = part_extras(layout, part, marks[i]);
    auto module = std::ranges::find(modules, part.module, &ModuleParts::name);
    if (module == modules.end()) module = modules.insert(modules.end(), {part.module, {}});
    module->nodes.push_back(file.add_node(std::move(node)));
  }
  return modules;
}

std::optional<int> add_vehicle(const Vehicle& vehicle, GltfFile& file) {
  std::vector<int> bodies;
  for (const VehicleBody& body : vehicle_bodies(vehicle)) {
    const TriMesh surface = detail::surface_of(body.pieces);
    if (surface.triangles.empty()) continue;
    const int material = file.add_material(kVehicleColour, kVehicleOpacity);
    const int mesh = file.add_mesh(file.add_surface(surface), material);
    bodies.push_back(
        file.add_node({{"name", body.id}, {"mesh", mesh}, {"extras", {{"id", body.id}}}}));
  }
  return add_group(
      file, "vehicle", bodies,
      {{"extras", {{"id", "vehicle"}, {"title", vehicle.title}, {"kind", "vehicle"}}}});
}

}  // namespace

Built<OutputFile> glb(const Layout& layout, const SolidSet& solids, const std::string& path,
                      const GlbOptions& options) {
  GltfFile file;
  Findings findings;
  const auto surfaces = add_surfaces(layout, solids, options, file, findings);
  std::vector<int> children;
  for (const ModuleParts& module : add_parts(layout, solids, surfaces, file)) {
    const Module* known = layout.module(module.name);
    Json extras{{"id", module.name},
                {"title", known == nullptr ? module.name : known->title},
                {"kind", "module"}};
    children.push_back(*add_group(file, module.name, module.nodes, {{"extras", extras}}));
  }
  if (options.vehicle && layout.vehicle != nullptr) {
    if (const auto node = add_vehicle(*layout.vehicle, file)) children.push_back(*node);
  }
  Json root = detail::placement(kGltfAxes);
  root["name"] = layout.project.name.empty() ? "layout" : layout.project.name;
  if (!children.empty()) root["children"] = children;
  const int top = file.add_node(std::move(root));
  return {{path, file.bytes(top), "model of everything for viewers, glTF 2.0 in metres"},
          std::move(findings)};
}

}  // namespace ribbay
