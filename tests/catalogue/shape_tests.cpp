#include "catalogue/shape_files.hpp"
#include "sample_catalogue.hpp"
#include "solid_files.hpp"

#include <algorithm>

using namespace ribbay;
using namespace ribbay::tests;
using ribbay::testing::block_triangles;
using ribbay::testing::stl_text;

namespace {

constexpr const char* kHeater = R"(format = 1
[equipment.heater]
mass = 9
assumption = true
shape = "parts/heater.stl"
shape_unit = "cm"
port.out = { kind = "water", at = [0, 0, 50], out = "left", diameter = 12 }
)";

/// Reads the catalogue with this file beside it.
Built<Catalogue> read_with(const std::string& text, const std::string& stl) {
  const ReadFile give = [&](const std::string& path) -> Result<std::string> {
    if (path == "stock.toml") return text;
    if (path == "parts/heater.stl") return stl;
    return fail(input_error("input.no_file", {}));
  };
  auto document = load_document("stock.toml", {}, give);
  Findings findings = document.findings;
  const Findings missing = add_shape_files(document.value, give);
  findings.insert(findings.end(), missing.begin(), missing.end());
  Built<Catalogue> built = read_catalogue(document.value);
  findings.insert(findings.end(), built.findings.begin(), built.findings.end());
  return {std::move(built.value), std::move(findings)};
}

std::string changed(std::string text, const std::string& line, const std::string& by) {
  const auto at = text.find(line);
  REQUIRE(at != std::string::npos);
  return text.replace(at, line.size(), by);
}

std::string block(Vec3 lo, Vec3 hi) {
  return stl_text(block_triangles(lo, hi));
}

}  // namespace

TEST_CASE("equipment takes its real shape from a file, from its lowest corner on",
          "[catalogue][shape]") {
  const auto built = read_with(kHeater, block({-3, 5, 1}, {27, 25, 11}));
  INFO(all_text(built.findings));
  REQUIRE(built.findings.empty());
  const Equipment& heater = built.value.equipment.at("heater");
  REQUIRE(heater.imported);
  CHECK(heater.bounds() == Box{{0, 0, 0}, {300, 200, 100}});
  CHECK(heater.body() == heater.bounds());
  CHECK(volume(*heater.imported) == Approx(300.0 * 200 * 100));
}

TEST_CASE("the axes of a shape file can be turned", "[catalogue][shape]") {
  // 300 to the right, 200 up in the file where y is up, 100 towards the viewer.
  const std::string y_up = changed(kHeater, "shape_unit", "shape_up = \"y\"\nshape_unit");
  const auto up = read_with(y_up, block({0, 0, 0}, {30, 20, 10}));
  INFO(all_text(up.findings));
  CHECK(up.value.equipment.at("heater").bounds() == Box{{0, 0, 0}, {300, 100, 200}});
  const auto turned = read_with(changed(y_up, "shape_up", "shape_turned = 1\nshape_up"),
                                block({0, 0, 0}, {30, 20, 10}));
  CHECK(turned.value.equipment.at("heater").bounds() == Box{{0, 0, 0}, {100, 300, 200}});
}

TEST_CASE("a main body in boxes stands where asked, the shape may begin before it",
          "[catalogue][shape]") {
  const auto good = read_with(changed(kHeater, "shape_unit",
                                      "shape_at = [0, -20, 0]\nbox.body = { at = [0, 0, 0], size = "
                                      "[300, 180, 100] }\nshape_unit"),
                              block({0, 0, 0}, {30, 20, 10}));
  INFO(all_text(good.findings));
  CHECK(good.value.equipment.at("heater").body() == Box{{0, 0, 0}, {300, 180, 100}});
  CHECK(good.value.equipment.at("heater").bounds() == Box{{0, -20, 0}, {300, 180, 100}});
}

TEST_CASE("each fault of a shape file is told at the line that names it", "[catalogue][shape]") {
  auto open = block_triangles({0, 0, 0}, {30, 20, 10});
  open.pop_back();
  auto crossing = block_triangles({0, 0, 0}, {30, 20, 10});
  for (const auto& corners : block_triangles({5, 5, 5}, {35, 15, 15})) crossing.push_back(corners);
  const std::string sound = block({0, 0, 0}, {30, 20, 10});
  struct Row {
    std::string code;
    std::string text;
    std::string stl;
    int line;
  };
  const std::vector<Row> rows{
      {"import.not_closed", kHeater, stl_text(open), 5},
      {"import.overlaps", kHeater, stl_text(crossing), 5},
      {"import.no_volume", kHeater, block({0, 0, 0}, {30, 20, 0}), 5},
      {"import.not_read", kHeater, "solid a\nendsolid a\n", 5},
      {"import.no_unit", changed(kHeater, "shape_unit = \"cm\"\n", ""), sound, 5},
      {"input.no_file", changed(kHeater, "heater.stl", "heatre.stl"), sound, 5},
      {"catalogue.first_box", changed(kHeater, "shape_unit", "shape_at = [-1, 0, 0]\nshape_unit"),
       sound, 6},
      {"catalogue.outside", kHeater, block({0, 0, 0}, {30, 20, 4.9}), 7},
  };
  for (const Row& row : rows) {
    CAPTURE(row.code);
    const auto built = read_with(row.text, row.stl);
    INFO(all_text(built.findings));
    REQUIRE(built.findings.size() == 1);
    CHECK(built.findings[0].code == row.code);
    REQUIRE(built.findings[0].place);
    CHECK(built.findings[0].place->line == row.line);
    CHECK(message_text(built.findings[0], LengthStyle::millimetres).find('{') == std::string::npos);
    CHECK(built.value.equipment.empty());
  }
}

TEST_CASE("a shape file in another unit than it is said to have is one error", "[catalogue][shape]") {
  const std::string boxes = changed(
      kHeater, "shape_unit",
      "box.body = { at = [0, 0, 0], size = [300, 180, 100] }\nfeet = [{ at = [9, 9, 0] }]\nshape_unit");
  // 300 x 200 x 100 mm in other numbers.
  struct Row {
    std::string text;
    Vec3 size;
    std::string unit;
    std::string says;
  };
  const std::vector<Row> rows{
      {boxes, {300, 200, 100}, "mm", "measures 3000 x 2000 x 1000 mm, and its boxes measure 300 x 180 x 100 mm"},
      {boxes, {0.3, 0.2, 0.1}, "m", "looks like it is in m"},
      {boxes, {300 / 25.4, 200 / 25.4, 100 / 25.4}, "in", "looks like it is in in"},
      {changed(kHeater, "[0, 0, 50]", "[0, 90, 50]"), {0.3, 0.2, 0.1}, "m", "its feet, ports and holes"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.unit, row.says);
    const auto built = read_with(row.text, block({0, 0, 0}, row.size));
    INFO(all_text(built.findings));
    REQUIRE(built.findings.size() == 1);
    CHECK(built.findings[0].code == "import.wrong_unit");
    CHECK_THAT(message_text(built.findings[0], LengthStyle::millimetres), Catch::Contains(row.says));
    // What it advises is right.
    const auto mended = read_with(changed(row.text, "shape_unit = \"cm\"", "shape_unit = \"" + row.unit + "\""),
                                  block({0, 0, 0}, row.size));
    INFO(all_text(mended.findings));
    CHECK(mended.findings.empty());
  }
  const auto odd = read_with(changed(kHeater, "port.out", "# port.out"), block({0, 0, 0}, {0.3, 0.2, 0.1}));
  REQUIRE(odd.findings.size() == 1);
  CHECK(odd.findings[0].code == "import.odd_size");
}

TEST_CASE("a shape is symmetric when each of its corners has an image", "[catalogue][shape]") {
  const std::string symmetric = changed(
      kHeater, "port.out = { kind = \"water\", at = [0, 0, 50], out = \"left\", diameter = 12 }",
      "mirror = \"symmetric\"");
  CHECK(read_with(symmetric, block({0, 0, 0}, {30, 20, 10})).findings.empty());
  auto lopsided = block_triangles({0, 0, 0}, {30, 20, 10});
  for (const auto& corners : block_triangles({2, 2, 10}, {8, 8, 12})) lopsided.push_back(corners);
  const auto built = read_with(symmetric, stl_text(lopsided));
  REQUIRE(built.findings.size() == 1);
  CHECK(message_text(built.findings[0], LengthStyle::millimetres) ==
        "heater is called symmetric, but its shape has no mirror image on the other side");
}
