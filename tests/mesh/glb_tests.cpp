#include "../solids/sample_layout.hpp"
#include "mesh/glb.hpp"
#include "temporary_file.hpp"

#include <assimp/Importer.hpp>
#include <assimp/scene.h>
#include <catch2/catch.hpp>

#include <cstring>
#include <functional>
#include <map>
#include <set>

using namespace ribbay;

namespace {

Layout layout_in_a_van() {
  Layout layout = samples::small_layout();
  auto van = std::make_shared<Vehicle>();
  van->key = "box_van";
  van->title = "Box van";
  for (const double x : {0.0, 1500.0, 3000.0}) {
    Station station;
    station.x = x;
    for (const double z : {0.0, 600.0, 1400.0, 1800.0}) {
      const double half_width = 900.0 - 100.0 * (z / 1800.0) * (z / 1800.0);
      station.left.push_back({z, half_width});
      station.right.push_back({z, half_width});
    }
    van->stations.push_back(station);
  }
  layout.vehicle = van;
  return layout;
}

SolidSet solids_of(const Layout& layout, int jobs = 1) {
  Built<SolidSet> built = make_solids(layout, jobs);
  REQUIRE(built.findings.empty());
  return std::move(built.value);
}

std::string glb_bytes(const Layout& layout, const GlbOptions& options = {}) {
  const Built<OutputFile> built = glb(layout, solids_of(layout), "model/assembly.glb", options);
  REQUIRE(built.findings.empty());
  CHECK(built.value.path == "model/assembly.glb");
  return built.value.bytes;
}

struct NodeRead {
  std::string parent;
  std::map<std::string, std::string> extras;
  std::set<unsigned> meshes;
  Box box;  ///< of what it shows itself, in the world, metres
};

/// All nodes by name, with what they show in world coordinates.
std::map<std::string, NodeRead> read_nodes(const aiScene& scene) {
  std::map<std::string, NodeRead> nodes;
  const std::function<void(const aiNode&, const aiMatrix4x4&)> walk =
      [&](const aiNode& node, const aiMatrix4x4& above) {
        const aiMatrix4x4 placed = above * node.mTransformation;
        NodeRead& read = nodes[node.mName.C_Str()];
        if (node.mParent != nullptr) read.parent = node.mParent->mName.C_Str();
        for (unsigned i = 0; node.mMetaData != nullptr && i < node.mMetaData->mNumProperties; ++i) {
          aiString value;
          if (node.mMetaData->Get(i, value))
            read.extras[node.mMetaData->mKeys[i].C_Str()] = value.C_Str();
        }
        for (unsigned m = 0; m < node.mNumMeshes; ++m) {
          read.meshes.insert(node.mMeshes[m]);
          const aiMesh& mesh = *scene.mMeshes[node.mMeshes[m]];
          for (unsigned v = 0; v < mesh.mNumVertices; ++v) {
            const aiVector3D p = placed * mesh.mVertices[v];
            read.box.add(Vec3{p.x, p.y, p.z});
          }
        }
        for (unsigned c = 0; c < node.mNumChildren; ++c) walk(*node.mChildren[c], placed);
      };
  walk(*scene.mRootNode, aiMatrix4x4());
  return nodes;
}

const aiScene& import(Assimp::Importer& importer, const std::string& bytes) {
  const aiScene* scene = importer.ReadFileFromMemory(bytes.data(), bytes.size(), 0, "glb");
  if (scene == nullptr) FAIL(importer.GetErrorString());
  return *scene;
}

/// A point in van axes (mm) as glTF has it: metres, z forward, x left, y up.
Vec3 in_gltf(Vec3 van) {
  return {van.y / 1000.0, van.z / 1000.0, van.x / 1000.0};
}

/// Bounds of a placed solid by its own corners: exact for axis-parallel frames only.
Box placed_bounds(const Solid& solid, const Frame& frame) {
  const Box box = bounds(solid);
  Box placed;
  for (const double x : {box.lo.x, box.hi.x}) {
    for (const double y : {box.lo.y, box.hi.y}) {
      for (const double z : {box.lo.z, box.hi.z}) placed.add(frame.point({x, y, z}));
    }
  }
  return placed;
}

void check_valid(const std::string& bytes) {
  // The validator of the Khronos Group, npm package gltf-validator; see package.json.
  const std::string folder = std::string(RIBBAY_SOURCE_DIR) + "/tests/mesh";
  if (!std::filesystem::exists(folder + "/node_modules/gltf-validator")) {
    FAIL("install the test requirement: npm ci --prefix tests/mesh");
  }
  const testing::TemporaryFile file(bytes, ".glb");
  const testing::Output report =
      testing::run("node " + folder + "/validate_gltf.mjs " + file.path());
  CAPTURE(report.text);
  CHECK(report.code == 0);
  CHECK_THAT(report.text, Catch::Contains("draw calls"));
}

}  // namespace

TEST_CASE("the glTF validator finds no error, no warning and nothing unknown", "[mesh][glb]") {
  SECTION("parts alone") {
    check_valid(glb_bytes(samples::small_layout()));
  }
  SECTION("parts in a van") {
    check_valid(glb_bytes(layout_in_a_van()));
  }
}

TEST_CASE("the validator does see faults", "[mesh][glb]") {
  std::string bytes = glb_bytes(samples::small_layout());
  const std::size_t at = bytes.find("\"POSITION\"");
  REQUIRE(at != std::string::npos);
  bytes.replace(at, 10, "\"POSITIOX\"");
  const testing::TemporaryFile file(bytes, ".glb");
  CHECK(
      testing::run("node " RIBBAY_SOURCE_DIR "/tests/mesh/validate_gltf.mjs " + file.path()).code ==
      1);
}

TEST_CASE("a reader finds every part by id, below its module, in metres with y up", "[mesh][glb]") {
  const Layout layout = samples::small_layout();
  const SolidSet solids = solids_of(layout);
  Assimp::Importer importer;
  const auto nodes = read_nodes(import(importer, glb_bytes(layout)));

  CHECK(nodes.at("rack").parent == layout.project.name);
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    CAPTURE(part.id);
    REQUIRE(nodes.count(part.id) == 1);
    const NodeRead& node = nodes.at(part.id);
    CHECK(node.parent == part.module);
    const Box expected = placed_bounds(*solids.of(i), part.frame);
    const Box found = node.box;
    if (part.frame.z.z == 1.0 || part.frame.z.y == -1.0) {
      CHECK(length(found.lo - in_gltf(expected.lo)) < 1e-6);
      CHECK(length(found.hi - in_gltf(expected.hi)) < 1e-6);
    } else {  // turned by an odd angle: inside the box of its box
      const Box outer = grown({in_gltf(expected.lo), in_gltf(expected.hi)}, 1e-6);
      CHECK(near(outer, found, 0.0));
      for (int axis = 0; axis < 3; ++axis) {
        CHECK(found.lo[axis] >= outer.lo[axis]);
        CHECK(found.hi[axis] <= outer.hi[axis]);
      }
    }
  }
}

TEST_CASE("extras tell what a part is", "[mesh][glb]") {
  const Layout layout = samples::small_layout();
  Assimp::Importer importer;
  const auto nodes = read_nodes(import(importer, glb_bytes(layout)));
  for (const Part& part : layout.parts) {
    CAPTURE(part.id);
    const auto& extras = nodes.at(part.id).extras;
    REQUIRE(extras.count("id") == 1);
    CHECK(extras.at("id") == part.id);
    CHECK(extras.at("title") == part.title);
    CHECK(extras.at("module") == part.module);
    CHECK(extras.at("kind") == name(part.kind));
    CHECK(extras.count("material") == (part.material.empty() ? 0U : 1U));
  }
  CHECK(nodes.at("rack/post.rear_left").extras.at("material") == "Aluminium EN AW-6063");
  CHECK(nodes.at("rack/post.rear_left").extras.at("mark") == "M3");
  CHECK(nodes.at("rack").extras.at("title") == "Rack");
}

TEST_CASE("parts of one shape and colour share a mesh", "[mesh][glb]") {
  const Layout layout = samples::small_layout();
  Assimp::Importer importer;
  const auto nodes = read_nodes(import(importer, glb_bytes(layout)));
  const auto mesh = [&](const char* id) { return *nodes.at(id).meshes.begin(); };
  CHECK(mesh("rack/post.rear_left") == mesh("rack/post.front_right"));
  CHECK(mesh("rack/joint.1.bolt") == mesh("rack/joint.3.bolt"));
  CHECK(mesh("galley/shelf.1") == mesh("galley/shelf.2"));
  CHECK(mesh("galley/shelf.1") != mesh("galley/front.gr\u00fcn"));
}

TEST_CASE("colours are given in linear light", "[mesh][glb]") {
  const Layout layout = samples::small_layout();
  Assimp::Importer importer;
  const aiScene& scene = import(importer, glb_bytes(layout));
  const auto nodes = read_nodes(scene);
  const aiMesh& mesh = *scene.mMeshes[*nodes.at("galley/front.gr\u00fcn").meshes.begin()];
  aiColor4D colour;
  REQUIRE(scene.mMaterials[mesh.mMaterialIndex]->Get(AI_MATKEY_COLOR_DIFFUSE, colour) ==
          aiReturn_SUCCESS);
  // #3a7d44 by the formula of IEC 61966-2-1: ((c / 255 + 0.055) / 1.055) ^ 2.4.
  CHECK(colour.r == Approx(0.04231).margin(1e-4));
  CHECK(colour.g == Approx(0.20508).margin(1e-4));
  CHECK(colour.b == Approx(0.05781).margin(1e-4));
  CHECK(colour.a == 1.0F);
}

TEST_CASE("the van stands around the parts, translucent, when asked for", "[mesh][glb]") {
  const Layout layout = layout_in_a_van();
  Assimp::Importer importer;
  const aiScene& scene = import(importer, glb_bytes(layout));
  const auto nodes = read_nodes(scene);
  REQUIRE(nodes.count("vehicle") == 1);
  CHECK(nodes.at("vehicle").parent == layout.project.name);
  CHECK(nodes.at("vehicle").extras.at("title") == "Box van");
  int bodies = 0;
  Box box;
  for (const auto& [id, node] : nodes) {
    if (node.parent != "vehicle") continue;
    ++bodies;
    box.add(node.box);
    const aiMesh& mesh = *scene.mMeshes[*node.meshes.begin()];
    float opacity = 1.0F;
    aiColor4D colour;
    REQUIRE(scene.mMaterials[mesh.mMaterialIndex]->Get(AI_MATKEY_COLOR_DIFFUSE, colour) ==
            aiReturn_SUCCESS);
    opacity = colour.a;
    CHECK(opacity < 0.5F);
  }
  CHECK(bodies >= 4);
  // The room is 1.8 m wide, 1.8 m high and 3 m long; its body lies around that.
  CHECK(box.lo.x <= -0.9);
  CHECK(box.hi.x >= 0.9);
  CHECK(box.hi.y >= 1.8);
  CHECK(box.hi.z >= 2.999);
  CHECK(box.hi.y < 2.5);

  Assimp::Importer without;
  CHECK(read_nodes(import(without, glb_bytes(layout, {.vehicle = false}))).count("vehicle") == 0);
}

TEST_CASE("faces inside a wall of many pieces are left out", "[mesh][glb]") {
  const Layout layout = layout_in_a_van();
  const std::string bytes = glb_bytes(layout);
  Assimp::Importer importer;
  const aiScene& scene = import(importer, bytes);
  const auto nodes = read_nodes(scene);
  std::size_t pieces = 0;
  for (const VehicleBody& body : vehicle_bodies(*layout.vehicle)) {
    if (body.id == "vehicle/wall.left") pieces = body.pieces.size();
  }
  REQUIRE(pieces > 4);
  REQUIRE(nodes.count("vehicle/wall.left") == 1);
  const aiMesh& wall = *scene.mMeshes[*nodes.at("vehicle/wall.left").meshes.begin()];
  // A wedge alone has 8 triangles, 2 of them its faces; a wall of n keeps those and its rim.
  CHECK(wall.mNumFaces < 5 * pieces);
  CHECK(wall.mNumFaces > 2 * pieces);
}

TEST_CASE("the same layout gives the same GLB bytes, for any number of threads", "[mesh][glb]") {
  const Layout layout = layout_in_a_van();
  const std::string bytes = glb_bytes(layout);
  CHECK(bytes == glb_bytes(layout));
  CHECK(bytes == glb(layout, solids_of(layout, 4), "model/assembly.glb").value.bytes);
}

TEST_CASE("a layout without parts still gives a file", "[mesh][glb]") {
  const std::string bytes = glb_bytes(Layout{});
  CHECK(bytes.find("\"meshes\"") == std::string::npos);  // the format allows no empty lists
  CHECK(bytes.find("\"children\"") == std::string::npos);
}

TEST_CASE("the chunks of the file are counted and padded as glTF asks", "[mesh][glb]") {
  const std::string bytes = glb_bytes(samples::small_layout());
  const auto word = [&](std::size_t at) {
    std::uint32_t value = 0;
    std::memcpy(&value, bytes.data() + at, 4);
    return std::size_t{value};
  };
  CHECK(bytes.substr(0, 4) == "glTF");
  CHECK(word(4) == 2);
  CHECK(word(8) == bytes.size());
  CHECK(word(12) % 4 == 0);
  CHECK(20 + word(12) + 8 + word(20 + word(12)) == bytes.size());
}
