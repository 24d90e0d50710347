#include "structure/materials.hpp"

#include "layout/wood.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Two boards face to face along x, joined; each test changes what it is about.
Layout two_parts(const char* one, const char* other, double length = 1000) {
  auto built = lay_out_text("");
  REQUIRE(built.value);
  Layout layout = *built.value;
  const auto add = [&](const char* id, const char* material, double z) {
    Part part;
    part.id = id;
    part.module = "m";
    part.kind = PartKind::panel;
    part.material = material;
    part.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, {length, 200, 20}));
    part.frame.origin = {0, 0, z};
    layout.parts.push_back(part);
  };
  add("m/a", one, 0);
  add("m/b", other, 20);
  layout.joints.push_back(
      {.id = "m/joint.a", .kind = "screwed", .parts = {"m/a", "m/b"}, .hardware = {}});
  return layout;
}

void bolt_at(Layout& layout, const char* bolt, double x) {
  Part part;
  part.id = "m/bolt_" + std::to_string(layout.parts.size());
  part.module = "m";
  part.kind = PartKind::hardware;
  part.stock.key = bolt;
  part.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, {6, 6, 30}));
  part.frame.origin = {x, 100, 40};
  part.hosts = {"m/a", "m/b"};
  layout.parts.push_back(part);
}

double measured(const Finding& finding) {
  return std::get<double>(finding.argument("measured")->value);
}

}  // namespace

TEST_CASE("metals far apart in the galvanic series are told where they touch",
          "[structure][materials]") {
  // Aluminium -0.90 V and zinc plated steel -1.25 V: 0.35 V apart.
  Layout layout = two_parts("aluminium", "steel_zinc");
  const Findings findings = check_materials(layout);
  REQUIRE(findings.size() == 1);
  CHECK(findings.front().code == "material.dissimilar_metals");
  CHECK(findings.front().severity == Severity::warning);
  CHECK(std::get<std::string>(findings.front().argument("measured")->value) == "0.35 V");

  SECTION("a coat on both faces of one parts them") {
    layout.parts[1].coverings.push_back({.finish = "paint_white", .face = true, .back = true});
    CHECK(check_materials(layout).empty());
  }
  SECTION("so does a gap") {
    layout.parts[1].frame.origin.z += 1;
    CHECK(check_materials(layout).empty());
  }
}

TEST_CASE("metals within the limits are only noted, or nothing is said", "[structure][materials]") {
  CHECK(check_materials(two_parts("aluminium", "steel")).empty());         // 0.05 V
  CHECK(check_materials(two_parts("stainless_steel", "brass")).empty());   // 0.10 V
  Layout between = two_parts("aluminium", "steel");
  auto catalogue = std::make_shared<Catalogue>(*between.catalogue);
  catalogue->materials.at("steel").anodic_index = -0.70;                   // 0.20 V
  between.catalogue = catalogue;
  const Findings findings = check_materials(between);
  REQUIRE(findings.size() == 1);
  CHECK(findings.front().severity == Severity::note);
}

TEST_CASE("unequal growth between the outer bolts is measured against the play of their holes",
          "[structure][materials]") {
  // Polyethylene 150e-6 on aluminium 23e-6, bolts 900 apart, from -20 to 60 degrees:
  // 900 x 127e-6 x 80 = 9.144 mm. M6 in a hole of 6.6 has 0.6 mm of play.
  Layout layout = two_parts("hdpe", "aluminium");
  bolt_at(layout, "m6_40", 50);
  bolt_at(layout, "m6_40", 500);
  CHECK(measured(check_materials(layout).front()) == Approx(450 * 127e-6 * 80));
  bolt_at(layout, "m6_40", 950);
  const Findings findings = check_materials(layout);
  REQUIRE(findings.size() == 1);
  CHECK(findings.front().code == "material.expansion");
  CHECK(measured(findings.front()) == Approx(9.144));
  CHECK(std::get<double>(findings.front().argument("required")->value) == Approx(0.6));
}

TEST_CASE("the project says how cold and warm its van gets", "[structure][materials]") {
  Layout layout = two_parts("hdpe", "aluminium");
  bolt_at(layout, "m6_40", 50);
  bolt_at(layout, "m6_40", 950);
  layout.climate.coldest = 273.15;
  layout.climate.warmest = 313.15;
  // 900 x 127e-6 x 40 = 4.572 mm.
  const Findings findings = check_materials(layout);
  REQUIRE(findings.size() == 1);
  CHECK(measured(findings.front()) == Approx(4.572));
  CHECK_THAT(message_text(findings.front(), LengthStyle::millimetres),
             Catch::Contains("from 0 degC to 40 degC"));
  layout.climate.warmest = 275.15;  // 0.23 mm, less than the play of 0.6
  CHECK(check_materials(layout).empty());
}

TEST_CASE("the climate of a project is read, and a range that is turned round told",
          "[structure][climate]") {
  const auto climate = [](std::vector<std::string> settings) {
    return lay_out_text("", settings);
  };
  const auto built = climate({"project.coldest=-30 degC", "project.warmest=50 degC",
                              "project.driest_wood=7", "project.wettest_wood=12"});
  INFO(words(built.findings));
  REQUIRE(built.value);
  CHECK(built.value->climate.coldest == Approx(243.15));
  CHECK(built.value->climate.warmest == Approx(323.15));
  CHECK(built.value->climate.driest == 7);
  CHECK(built.value->climate.wettest == 12);
  const auto plain = climate({});
  REQUIRE(plain.value);
  CHECK(plain.value->climate.coldest == Approx(253.15));
  CHECK(plain.value->climate.warmest == Approx(333.15));
  CHECK(plain.value->climate.driest == 6);
  CHECK(plain.value->climate.wettest == 14);
  const auto cold = climate({"project.coldest=70 degC"});
  REQUIRE(has_code(cold.findings, "layout.range_turned"));
  CHECK_THAT(words(cold.findings), Catch::Contains("coldest is 70 degC, which is not below "
                                                   "warmest, 60 degC"));
  CHECK(has_code(climate({"project.wettest_wood=6"}).findings, "layout.range_turned"));
  CHECK(has_errors(climate({"project.driest_wood=3"}).findings));
}

TEST_CASE("what is held at one end only, or grows alike, is free", "[structure][materials]") {
  Layout once = two_parts("hdpe", "aluminium");
  bolt_at(once, "m6_40", 50);
  CHECK(check_materials(once).empty());
  // Steel 12e-6 on aluminium 23e-6 over 500: 0.44 mm, less than the play.
  Layout metals = two_parts("steel", "aluminium");
  bolt_at(metals, "m6_40", 100);
  bolt_at(metals, "m6_40", 600);
  CHECK(check_materials(metals).empty());
}

TEST_CASE("solid wood glued across its grain is told with its movement", "[structure][materials]") {
  Layout layout = two_parts("maple", "birch_plywood");
  Part& board = layout.parts.front();
  board.kind = PartKind::plank;
  board.stock.key = "maple_9";
  CHECK(check_materials(layout).empty());  // not glued
  layout.joints.front().glued = true;
  const Findings findings = check_materials(layout);
  REQUIRE(findings.size() == 1);
  CHECK(findings.front().code == "material.glued_across");
  // 200 wide, plain-sawn maple 0.00353 per point (FPL-GTR-190, table 13-5), 8 points: 5.648 mm.
  CHECK(measured(findings.front()) == Approx(200 * 0.00353 * 8));

  SECTION("two boards with their grain the same way move together") {
    layout.parts[1] = board;
    layout.parts[1].id = "m/b";
    CHECK(check_materials(layout).empty());
  }
  SECTION("less so in a van that is kept dry") {
    layout.climate.wettest = 8;  // 200 x 0.00353 x 2 = 1.412 mm
    CHECK(measured(check_materials(layout).front()) == Approx(1.412));
  }
  SECTION("a narrow strip bears it") {
    for (Part& part : layout.parts)
      part.shape = std::make_shared<const Shape>(box_shape({0, 0, 0}, {1000, 15, 20}));
    CHECK(check_materials(layout).empty());  // 0.42 mm
  }
}
