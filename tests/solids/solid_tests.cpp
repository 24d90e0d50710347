#include "sample_shapes.hpp"
#include "solids/solid.hpp"
#include "solids_kernel/shape.hpp"

#include <BRepCheck_Analyzer.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <catch2/catch.hpp>

#include <numbers>

using namespace ribbay;
using std::numbers::pi;

namespace {

Solid solid_of(const Shape& shape, SolidOptions options = {}) {
  const Result<Solid> solid = make_solid(shape, "test/part", options);
  if (!solid) FAIL(solid.error().front().code);
  return *solid;
}

int faces(const Solid& solid) {
  TopTools_IndexedMapOfShape map;
  TopExp::MapShapes(solid.kernel().shape, TopAbs_FACE, map);
  return map.Extent();
}

std::string only_code(const Result<Solid>& result) {
  if (result || result.error().size() != 1) return "not one finding";
  return result.error().front().code;
}

}  // namespace

TEST_CASE("every kind of shape gives one valid closed solid", "[solids]") {
  for (const samples::Named& sample : samples::all()) {
    for (const bool bores : {true, false}) {
      CAPTURE(sample.name, bores);
      const Solid solid = solid_of(sample.shape, {.bores = bores});
      CHECK(solid.kernel().shape.ShapeType() == TopAbs_SOLID);
      CHECK(solid.kernel().shape.Location().IsIdentity());
      CHECK(BRepCheck_Analyzer(solid.kernel().shape).IsValid());
      CHECK(volume_mm3(solid) > 0.0);
    }
  }
}

TEST_CASE("a metre of profile has the volume that section tables print", "[solids][published]") {
  struct Row {
    const char* name;
    Region section;
    double area_mm2;
    double half_digit;  // the table rounds to this
  };
  const std::vector<Row> rows{
      // EN 10365 prints 7.64 cm2.
      {"IPE 80", samples::ipe_80(), 764.0, 0.5},
      // EN 10219-2 prints 2.14 cm2 for 40 x 20 x 2.
      {"hollow section", samples::tube_40_20_2(), 214.0, 0.5},
      // sectionproperties (MIT), validation of the angle section, prints 2747.059 mm2 for the same
      // angle with
      // each arc as 8 points; with true arcs the same formula gives 2746.730.
      {"angle", samples::angle_150_90_12(), 2746.730, 0.001},
  };
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const Solid solid = solid_of(samples::prism(row.section, 1000.0));
    CHECK(volume_mm3(solid) / 1000.0 == Approx(row.area_mm2).margin(row.half_digit));
  }
}

TEST_CASE("volumes agree with hand arithmetic", "[solids]") {
  const double side = 400.0 * 600 * 18;
  SECTION("a cabinet side with dados, rebate, toe space and cut-out") {
    const double dados =
        (400 + 394) * 15.2 * 6 - 6 * 15.2 * 6;  // the first dado crosses the rebate
    const double rebate = 6.0 * 600 * 9;
    const double toe = 50.0 * 70 * 18;
    const double cut_out = (100.0 * 100 - (4 - pi) * 20 * 20) * 18;
    CHECK(volume_mm3(solid_of(samples::cabinet_side())) ==
          Approx(side - dados - rebate - toe - cut_out).epsilon(1e-12));
  }
  SECTION("bores take their cylinders away, through ones the whole depth") {
    const double plain = volume_mm3(solid_of(samples::cabinet_side()));
    const double pins = 6 * pi / 4 * 5 * 5 * 11;
    const double cup = pi / 4 * 35 * 35 * 12.5;
    const double bolt = pi / 4 * 8.4 * 8.4 * 18;
    const double dowels = 2 * pi / 4 * 8 * 8 * 30;
    CHECK(plain - volume_mm3(solid_of(samples::drilled_side())) ==
          Approx(pins + cup + bolt + dowels).epsilon(1e-9));
    CHECK(volume_mm3(solid_of(samples::drilled_side(), {.bores = false})) == plain);
  }
  SECTION("a bolt is a shank and a head") {
    CHECK(volume_mm3(solid_of(samples::bolt())) ==
          Approx(pi / 4 * (8 * 8 * 25 + 13 * 13 * 5)).epsilon(1e-12));
  }
  SECTION("legs that overlap in the corner count once") {
    const double holes = 2 * pi / 4 * 8.4 * 8.4 * 5;
    CHECK(volume_mm3(solid_of(samples::bracket())) ==
          Approx((40.0 * 35 + 40.0 * 35 - 5.0 * 35) * 5 - holes).epsilon(1e-9));
  }
}

TEST_CASE("volume of the shape and of its solid without bores are the same", "[solids]") {
  for (const samples::Named& sample : samples::single_prisms()) {
    CAPTURE(sample.name);
    const Solid solid = solid_of(sample.shape, {.bores = false});
    CHECK(volume_mm3(solid) == Approx(volume(sample.shape)).epsilon(1e-9));
    const Vec3 apart = ribbay::centroid(solid) - centroid(sample.shape);
    CHECK(length(apart) < 1e-6);
  }
}

TEST_CASE("bounds of the shape and of its solid are the same", "[solids]") {
  for (const samples::Named& sample : samples::all()) {
    CAPTURE(sample.name);
    const Box of_solid = bounds(solid_of(sample.shape));
    const Box of_shape = bounds(sample.shape);
    CHECK(length(of_solid.lo - of_shape.lo) < 2e-6);
    CHECK(length(of_solid.hi - of_shape.hi) < 2e-6);
  }
}

TEST_CASE("a cutter that ends on a face, or just short of it, leaves no sliver", "[solids]") {
  const auto faces_with_step = [](double edge, double top) {
    return faces(
        solid_of(samples::prism({rectangle({0, 0}, {100, 50}), {}}, 10.0,
                                {{rectangle({80, 0}, {edge, 50}), 4.0, top, CutRole::rebate}})));
  };
  const int step =
      8;  // a box with a step along one edge: two ends, bottom, back, two tops, two uprights
  CHECK(faces_with_step(100.0, 10.0) == step);
  CHECK(faces_with_step(130.0, 25.0) == step);
  CHECK(faces_with_step(100.0 - 4e-4, 10.0 - 4e-4) == step);
  CHECK(faces_with_step(100.0 - 1e-7, 10.0 + 1e-7) == step);
}

TEST_CASE("widening a cutter takes nothing from material in line with its face", "[solids]") {
  // The dado ends in line with the inner corner: half of that side is a face, half is inside the
  // leg.
  const double blank = (300.0 * 100 + 120.0 * 150) * 15;
  const double dado = 240.0 * 15 * 5;
  const double groove = 15.0 * 210 * 4;
  CHECK(volume_mm3(solid_of(samples::l_panel())) == Approx(blank - dado - groove).epsilon(1e-12));
}

TEST_CASE("a round section is one cylinder, not four", "[solids]") {
  CHECK(faces(solid_of({{cylinder(12, 80)}})) == 3);
  CHECK(faces(solid_of(samples::prism(samples::tube_40_20_2(), 100))) == 18);
}

TEST_CASE("what is not one sound body is refused by name", "[solids]") {
  const Region square{rectangle({0, 0}, {100, 100}), {}};
  SECTION("cut in two") {
    const auto result = make_solid(
        samples::prism(square, 10, {{rectangle({40, -1}, {60, 101}), 0, 10, CutRole::cut_out}}),
        "galley/x");
    REQUIRE(only_code(result) == "solid.not_one_body");
    CHECK(result.error().front().subjects == std::vector<std::string>{"galley/x"});
    REQUIRE(result.error().front().argument("bodies") != nullptr);
    CHECK(std::get<double>(result.error().front().argument("bodies")->value) == 2.0);
  }
  SECTION("prisms that do not touch") {
    CHECK(only_code(make_solid({{cylinder(5, 5), cylinder(5, 5, {{50, 0, 0}})}}, "x")) ==
          "solid.not_one_body");
  }
  SECTION("cut away whole") {
    CHECK(only_code(make_solid(
              samples::prism(square, 10,
                             {{rectangle({-1, -1}, {101, 101}), 0, 10, CutRole::cut_out}}),
              "x")) == "solid.nothing_left");
    CHECK(only_code(make_solid({}, "x")) == "solid.nothing_left");
  }
  SECTION("a corner that hangs by an edge") {
    CHECK_FALSE(
        make_solid(samples::prism(square, 10,
                                  {{rectangle({-1, 50}, {50, 101}), 0, 10, CutRole::cut_out},
                                   {rectangle({50, -1}, {101, 50}), 0, 10, CutRole::cut_out}}),
                   "x"));
  }
  SECTION("no height, no section, no bore") {
    CHECK(only_code(make_solid(samples::prism(square, 0), "x")) == "solid.no_height");
    CHECK(only_code(make_solid(samples::prism(square, -3), "x")) == "solid.no_height");
    CHECK(only_code(make_solid(samples::prism({}, 5), "x")) == "solid.bad_section");
    CHECK(only_code(make_solid(samples::prism({reversed(square.outer), {}}, 5), "x")) ==
          "solid.bad_section");
    CHECK(only_code(make_solid(
              samples::prism(square, 5, {}, {samples::bore({9, 9, 5}, {0, 0, -1}, 0, 4)}), "x")) ==
          "solid.bad_bore");
  }
}
