#include "base/messages.hpp"
#include "sample_scans.hpp"
#include "scan/read_scan.hpp"

#include <catch2/catch.hpp>

#include <functional>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

/// A tetrahedron with edges of 100, 200 and 300 mm along the axes.
ScanMesh tetrahedron() {
  return {{{0, 0, 0}, {100, 0, 0}, {0, 200, 0}, {0, 0, 300}},
          {{0, 2, 1}, {0, 1, 3}, {0, 3, 2}, {1, 2, 3}}};
}

std::string code_of(const Result<ScanMesh>& read) {
  return read ? "no error" : read.error().front().code;
}

std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

}  // namespace

TEST_CASE("every format gives the same triangles, in its unit", "[scan][reading]") {
  const ScanMesh mesh = tetrahedron();
  for (const WrittenScan& written : all_formats(mesh, 0.001)) {
    CAPTURE(written.name);
    const auto read = read_scan(written.bytes, written.name, 1000.0);
    REQUIRE(read);
    REQUIRE(read->triangles.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
      const auto expected = mesh.corners(mesh.triangles[i]);
      const auto found = read->corners(read->triangles[i]);
      // Coordinates are floats of about 0.3 m: 3e-8 m.
      for (std::size_t k = 0; k < 3; ++k) CHECK(length(found[k] - expected[k]) < 1e-4);
    }
  }
}

TEST_CASE("only glTF says its unit", "[scan][reading]") {
  CHECK(stated_unit("van.glb") == 1000.0);
  CHECK(stated_unit("VAN.GLB") == 1000.0);
  for (const char* path : {"van.obj", "van.ply", "van.stl"}) CHECK_FALSE(stated_unit(path));
}

TEST_CASE("nodes place their meshes, and a mirrored one keeps its faces outward",
          "[scan][reading]") {
  // Two nodes show one mesh: one moved by 2 m along x under a parent moved by 1 m along z, the
  // other mirrored in x.
  const std::string nodes =
      R"("nodes":[{"translation":[0,0,1],"children":[1,2]},{"mesh":0,"translation":[2,0,0]},)"
      R"({"mesh":0,"scale":[-1,1,1]}])";
  const std::string glb = glb_scan(tetrahedron(), 0.001);
  const std::size_t json_size = little_at(glb, 12);
  const std::string json = with(glb.substr(20, json_size), R"("nodes":[{"mesh":0}])", nodes);
  const auto read = read_scan(glb_of(json, glb.substr(20 + json_size + 8)), "two.glb", 1000.0);
  REQUIRE(read);
  REQUIRE(read->triangles.size() == 8);
  const Box box = bounds(*read);
  CHECK(box.lo.x == Approx(-100).margin(1e-3));
  CHECK(box.hi.x == Approx(2100).margin(1e-3));
  CHECK(box.lo.z == Approx(1000).margin(1e-3));
  // Signed volume of a tetrahedron: a b c / 6, and positive for faces that look outward.
  double volume = 0.0;
  for (const auto& t : read->triangles) {
    const auto c = read->corners(t);
    volume += dot(c[0], cross(c[1], c[2])) / 6.0;
  }
  CHECK(volume == Approx(2 * 100.0 * 200.0 * 300.0 / 6.0).epsilon(1e-5));
}

TEST_CASE("polygons are divided into triangles", "[scan][reading]") {
  const std::string square = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nf 1 2 3 4\n";
  const auto read = read_scan(square, "square.obj", 1.0);
  REQUIRE(read);
  CHECK(read->triangles.size() == 2);
}

TEST_CASE("what is no scan is told in plain words", "[scan][reading][hostile]") {
  const ScanMesh mesh = tetrahedron();
  const std::string glb = glb_scan(mesh, 0.001);
  const std::string ply = ply_scan(mesh, 0.001);
  const std::string stl = stl_scan(mesh, 0.001);
  const std::string json = glb.substr(20, little_at(glb, 12));
  const std::string body = glb.substr(20 + json.size() + 8);
  const auto glb_with = [&](const std::string& from, const std::string& to) {
    return glb_of(with(json, from, to), body);
  };
  ScanMesh nowhere = mesh;
  nowhere.points[1].x = std::numeric_limits<double>::quiet_NaN();

  struct Row {
    const char* what;
    std::string name;
    std::string bytes;
    const char* code;
  };
  const std::vector<Row> rows = {
      {"another ending", "van.dxf", stl, "scan.format"},
      {"no ending", "van", stl, "scan.format"},
      {"empty", "a.glb", "", "scan.not_read"},
      {"empty", "a.obj", "", "scan.no_triangles"},
      {"empty", "a.ply", "", "scan.not_read"},
      {"empty", "a.stl", "", "scan.cut_short"},
      {"half", "a.glb", glb.substr(0, glb.size() / 2), "scan.cut_short"},
      {"half", "a.ply", ply.substr(0, ply.size() - 20), "scan.cut_short"},
      {"half", "a.stl", stl.substr(0, stl.size() - 20), "scan.cut_short"},
      {"not a number", "a.glb", glb_scan(nowhere, 0.001), "scan.not_finite"},
      {"not a number", "a.ply", ply_scan(nowhere, 0.001), "scan.not_finite"},
      {"not a number", "a.stl", stl_scan(nowhere, 0.001), "scan.not_finite"},
      {"points only", "a.obj", "v 0 0 0\nv 1 0 0\nv 0 1 0\n", "scan.no_triangles"},
      {"points only", "a.ply", with(ply, "face 4", "face 0"), "scan.no_triangles"},
      {"no facets", "a.stl", std::string(84, '\0'), "scan.no_triangles"},
      {"huge count", "a.stl", with(stl, std::string("\4\0\0\0", 4), "\xff\xff\xff\x7f"),
       "scan.too_many"},
      {"huge count", "a.ply", with(ply, "vertex 4", "vertex 4000000000"), "scan.cut_short"},
      {"huge count", "a.ply", with(ply, "face 4", "face 400000000"), "scan.too_many"},
      {"huge count in text", "a.ply", with(ply_text_scan(mesh, 0.001), "face 4", "face 3000000"),
       "scan.cut_short"},
      {"huge index", "a.ply", with(ply, std::string("\2\0\0\0\1\0\0\0", 8), "\xff\xff\xff\x7fxxxx"),
       "scan.bad_index"},
      {"huge index in text", "a.ply", with(ply_text_scan(mesh, 0.001), "3 0 2 1", "3 0 2 99"),
       "scan.bad_index"},
      {"huge index", "a.glb", glb_of(json, with(body, std::string("\2\0\1\0", 4), "\xff\x7f\1\2")),
       "scan.bad_index"},
      {"huge count", "a.glb", glb_with(R"("count":4)", R"("count":99999999999)"), "scan.cut_short"},
      {"view too far", "a.glb", glb_with(R"("byteOffset":48)", R"("byteOffset":4800000)"),
       "scan.cut_short"},
      {"no such accessor", "a.glb", glb_with(R"("indices":1)", R"("indices":7)"), "scan.not_read"},
      {"its own child", "a.glb", glb_with(R"({"mesh":0}])", R"({"mesh":0,"children":[0]}])"),
       "scan.not_read"},
      {"another file", "a.glb", glb_with(R"("buffers":[{)", R"("buffers":[{"uri":"/etc/passwd",)"),
       "scan.other_file"},
      {"compressed", "a.glb",
       glb_with(R"("scene":0)", R"("scene":0,"extensionsRequired":["KHR_draco_mesh_compression"])"),
       "scan.compressed"},
      {"no JSON", "a.glb", glb_of("{{{{", body), "scan.not_read"},
      {"nothing placed", "a.glb", glb_with(R"({"mesh":0}])", R"({"name":"a"}])"),
       "scan.no_triangles"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.what, row.name);
    const auto read = read_scan(row.bytes, row.name, 1000.0);
    CHECK(code_of(read) == row.code);
    if (read) continue;
    for (const Finding& finding : read.error()) {
      CHECK_FALSE(advice_text(finding, LengthStyle::millimetres).empty());
    }
  }
}

TEST_CASE("more triangles than the limit are refused", "[scan][reading][hostile]") {
  for (const WrittenScan& written : all_formats(tetrahedron(), 1.0)) {
    CAPTURE(written.name);
    CHECK(code_of(read_scan(written.bytes, written.name, 1.0, {.triangles = 3})) ==
          "scan.too_many");
  }
}

TEST_CASE("damaged files give an answer", "[scan][reading][hostile]") {
  // Bytes changed, cut out and repeated. That the process lives on, and how much memory it took, is
  // what the sanitizers and the limits of the test machine see.
  Chance chance(20261125);
  const auto at = [&](std::size_t size) {
    return static_cast<std::size_t>(chance.uniform(0, static_cast<double>(size)));
  };
  int read_well = 0;
  int refused = 0;
  for (const WrittenScan& written : all_formats(tetrahedron(), 0.001)) {
    for (int round = 0; round < 400; ++round) {
      std::string bytes = written.bytes;
      for (int i = 0; i <= round % 4; ++i) {
        const std::size_t k = at(bytes.size());
        switch (round % 3) {
          case 0:
            bytes[k] = static_cast<char>(at(256));
            break;
          case 1:
            bytes.erase(k, at(20));
            break;
          default:
            bytes.insert(k, bytes.substr(at(bytes.size()), at(30)));
        }
      }
      CAPTURE(written.name, round);
      const auto read = read_scan(bytes, written.name, 1000.0);
      ++(read ? read_well : refused);
      if (read) {
        CHECK(read->triangles.size() < 100);
      } else {
        CHECK_FALSE(read.error().empty());
      }
    }
  }
  CHECK(read_well > 100);
  CHECK(refused > 500);
}
