#include "../solids/sample_layout.hpp"
#include "mesh/stl.hpp"
#include "temporary_file.hpp"

#include <assimp/Importer.hpp>
#include <assimp/scene.h>
#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstring>
#include <map>
#include <regex>
#include <set>

using namespace ribbay;

namespace {

using Point = std::array<float, 3>;

/// Binary STL as its description has it: 80 bytes of text, a count, and 50 bytes for each facet.
struct Stl {
  std::string header;
  std::vector<Point> normals;
  std::vector<std::array<Point, 3>> facets;
};

Stl read_stl(const std::string& bytes) {
  REQUIRE(bytes.size() >= 84);
  Stl stl;
  stl.header = bytes.substr(0, 80);
  std::uint32_t count = 0;
  std::memcpy(&count, bytes.data() + 80, 4);
  REQUIRE(bytes.size() == 84 + 50 * std::size_t{count});
  for (std::size_t at = 84; at < bytes.size(); at += 50) {
    std::array<Point, 4> points;
    std::memcpy(points.data(), bytes.data() + at, sizeof points);
    stl.normals.push_back(points[0]);
    stl.facets.push_back({points[1], points[2], points[3]});
  }
  return stl;
}

/// Directed edges between points that are equal to the bit, as often as they are run.
std::map<std::pair<Point, Point>, int> edges(const Stl& stl) {
  std::map<std::pair<Point, Point>, int> count;
  for (const auto& f : stl.facets) {
    for (std::size_t k = 0; k < 3; ++k) ++count[{f[k], f[(k + 1) % 3]}];
  }
  return count;
}

Vec3 vec(const Point& p) {
  return {p[0], p[1], p[2]};
}

double volume_of(const Stl& stl) {
  double six = 0.0;
  for (const auto& f : stl.facets) six += dot(vec(f[0]), cross(vec(f[1]), vec(f[2])));
  return six / 6.0;
}

/// Every made part of the sample layout, its solid and its file.
struct Made {
  Layout layout = samples::small_layout();
  SolidSet solids;
  OutputFiles files;
  std::vector<PartType> types;

  Made() {
    Built<SolidSet> built = make_solids(layout);
    REQUIRE(built.findings.empty());
    solids = std::move(built.value);
    Built<OutputFiles> written = stl_parts(layout, solids);
    REQUIRE(written.findings.empty());
    files = std::move(written.value);
    types = part_types(layout);
    REQUIRE(files.size() == types.size());
  }
  const Part& part(std::size_t i) const { return layout.parts[types[i].parts.front()]; }
  const Solid& solid(std::size_t i) const { return *solids.of(types[i].parts.front()); }
};

/// The number after `label` in a report of admesh.
long reported(const std::string& report, const std::string& label) {
  std::smatch match;
  const std::regex pattern(label + " *: *([0-9]+)");
  return std::regex_search(report, match, pattern) ? std::stol(match[1]) : -1;
}

}  // namespace

TEST_CASE("every kind of made part has a file with its mark, bought parts have none",
          "[mesh][stl]") {
  const Made made;
  std::set<std::string> paths;
  for (std::size_t i = 0; i < made.files.size(); ++i) {
    const std::string& path = made.files[i].path;
    CAPTURE(path);
    paths.insert(path);
    CHECK(path.starts_with("model/stl/" + made.types[i].mark + "-"));
    CHECK(path.ends_with(".stl"));
    CHECK(std::ranges::all_of(path,
                              [](char c) { return c > ' ' && c <= '~' && c != '"' && c != '\\'; }));
    CHECK(made.part(i).kind != PartKind::hardware);
  }
  CHECK(paths.size() == made.files.size());
}

TEST_CASE("the header names part and unit and cannot be taken for text", "[mesh][stl]") {
  const Made made;
  for (std::size_t i = 0; i < made.files.size(); ++i) {
    const Stl stl = read_stl(made.files[i].bytes);
    CHECK_FALSE(stl.header.starts_with("solid"));
    CHECK_THAT(stl.header, Catch::Contains("mm"));
    CHECK_THAT(stl.header,
               Catch::Contains(made.types[i].mark + " " + made.part(i).title.substr(0, 5)));
    CHECK(std::ranges::all_of(stl.header, [](char c) { return c >= ' ' && c <= '~'; }));
  }
}

TEST_CASE("facets that share points to the bit close the surface, all one way round",
          "[mesh][stl]") {
  const Made made;
  for (std::size_t i = 0; i < made.files.size(); ++i) {
    CAPTURE(made.files[i].path);
    const Stl stl = read_stl(made.files[i].bytes);
    const auto runs = edges(stl);
    CHECK(std::ranges::all_of(runs, [&](const auto& run) {
      const auto& [edge, times] = run;
      const auto back = runs.find({edge.second, edge.first});
      return edge.first != edge.second && times == 1 && back != runs.end() && back->second == 1;
    }));
    const double volume = volume_mm3(made.solid(i));
    CHECK(volume_of(stl) == Approx(volume).epsilon(1e-3));
  }
}

TEST_CASE("facet normals follow the right-hand rule of the rounded points", "[mesh][stl]") {
  const Made made;
  for (const OutputFile& file : made.files) {
    CAPTURE(file.path);
    const Stl stl = read_stl(file.bytes);
    double worst = 0.0;
    for (std::size_t i = 0; i < stl.facets.size(); ++i) {
      const auto& f = stl.facets[i];
      const Vec3 normal = normalized(cross(vec(f[1]) - vec(f[0]), vec(f[2]) - vec(f[0])));
      worst = std::max(worst, length(normal - vec(stl.normals[i])));
    }
    CHECK(worst < 2e-7);  // single precision
  }
}

TEST_CASE("a mesh checker finds nothing to mend", "[mesh][stl][admesh]") {
  // ADMesh is a general tool that repairs STL files; apt package admesh.
  const Made made;
  if (testing::run("admesh --version").code != 0)
    FAIL("install the test requirement: apt package admesh");
  for (std::size_t i = 0; i < made.files.size(); ++i) {
    const testing::TemporaryFile file(made.files[i].bytes, ".stl");
    const testing::Output checked = testing::run("admesh " + file.path());
    CAPTURE(made.files[i].path, checked.text);
    CHECK(checked.code == 0);
    CHECK_THAT(checked.text, Catch::Contains("All facets connected"));
    CHECK(reported(checked.text, "Number of parts") == 1);
    CHECK(reported(checked.text, "Total disconnected facets") == 0);
    for (const char* label : {"Degenerate facets", "Edges fixed", "Facets removed", "Facets added",
                              "Facets reversed", "Backwards edges", "Normals fixed"}) {
      CAPTURE(label);
      CHECK(reported(checked.text, label) == 0);
    }
  }
}

TEST_CASE("another reader finds the sizes in millimetres", "[mesh][stl]") {
  const Made made;
  for (std::size_t i = 0; i < made.files.size(); ++i) {
    CAPTURE(made.files[i].path);
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFileFromMemory(made.files[i].bytes.data(),
                                                       made.files[i].bytes.size(), 0, "stl");
    REQUIRE(scene != nullptr);
    REQUIRE(scene->mNumMeshes == 1);
    CHECK(scene->mMeshes[0]->mNumFaces == read_stl(made.files[i].bytes).facets.size());
    Box box;
    for (unsigned v = 0; v < scene->mMeshes[0]->mNumVertices; ++v) {
      const aiVector3D& p = scene->mMeshes[0]->mVertices[v];
      box.add(Vec3{p.x, p.y, p.z});
    }
    const Box expected = bounds(made.solid(i));
    CHECK(length(box.lo - expected.lo) < 1e-4);
    CHECK(length(box.hi - expected.hi) < 1e-4);
  }
}

TEST_CASE("the same layout gives the same STL bytes", "[mesh][stl]") {
  const Made first;
  const Made again;
  REQUIRE(first.files.size() == again.files.size());
  for (std::size_t i = 0; i < first.files.size(); ++i) {
    CHECK(first.files[i].path == again.files[i].path);
    CHECK(first.files[i].bytes == again.files[i].bytes);
  }
}
