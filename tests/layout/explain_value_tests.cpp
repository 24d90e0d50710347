#include "small_project.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// A rack 600 deep whose width comes from the van.
const char* kRack = R"(
[values]
start = "100 mm"
gap = "5 mm"
[module.rack]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
depth = "600 mm"
height = "900 mm"
levels = ["0 mm", "400 mm", "860 mm"]
bays = ["1 share"]
foot = "foot_40"
floor_bolt = "m8_40"
place = { rear = "start", between = "walls", gap = "gap", on = "floor" }
)";

Built<std::optional<Origin>> explain(const std::string& text, const std::string& name) {
  const auto inputs = inputs_of_text(text);
  CAPTURE(words(inputs.findings));
  REQUIRE(inputs.value);
  return explain_value(*inputs.value, name);
}

const Origin* find(const Origin& origin, const std::string& path) {
  if (origin.path == path) return &origin;
  for (const Origin& each : origin.uses) {
    if (const Origin* found = find(each, path)) return found;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("a width that comes from the van shows its place and the room found there",
          "[layout][explain]") {
  const auto built = explain(kRack, "rack.width");
  CAPTURE(words(built.findings));
  REQUIRE(built.value);
  CHECK(built.findings.empty());
  const Origin& width = *built.value;
  CHECK(width.path == "rack.width");
  CHECK(width.kind == Origin::Kind::answered);
  // 1600 mm between the walls, ribs of 30 mm on both sides, 5 mm free at each wall.
  REQUIRE(width.value);
  CHECK(width.value->value == Approx(1530.0));
  const Origin* room = find(width, "clear_width(100 mm, 700 mm, 0 mm, 900 mm)");
  REQUIRE(room != nullptr);
  CHECK(room->value->value == Approx(1540.0));
  const Origin* rear = find(width, "module.rack.place.rear");
  REQUIRE(rear != nullptr);
  CHECK(rear->written == "start");
  CHECK(find(*rear, "values.start") != nullptr);
  CHECK(find(width, "values.gap")->written == "5 mm");
  CHECK(find(width, "module.rack.depth")->value->value == Approx(600.0));
}

TEST_CASE("what stands on another module shows that module", "[layout][explain]") {
  const std::string text = std::string(kRack) + R"(
[module.upper]
kind = "rack"
faces = "rear"
profile = "slotted_40"
bracket = "bracket_40"
depth = "600 mm"
height = "400 mm"
levels = ["0 mm", "360 mm"]
bays = ["1 share"]
foot = "foot_40"
floor_bolt = "m8_40"
place = { rear = "start", between = "walls", on = "rack" }
)";
  const auto built = explain(text, "upper.bottom");
  CAPTURE(words(built.findings));
  REQUIRE(built.value);
  CHECK(built.value->value->value == Approx(900.0));
  const Origin* top = find(*built.value, "rack.top");
  REQUIRE(top != nullptr);
  CHECK(top->value->value == Approx(900.0));
}

TEST_CASE("a mistake elsewhere does not hinder an explanation", "[layout][explain]") {
  const auto built =
      explain(std::string(kRack) + "[module.galley]\nkind = \"galley\"\nwidth = \"3 kg\"\n",
              "rack.place.gap");
  REQUIRE(built.value);
  CHECK(built.findings.empty());
  CHECK(built.value->value->value == Approx(5.0));
}

TEST_CASE("a name that nobody knows is answered with the nearest", "[layout][explain]") {
  const auto built = explain(kRack, "rack.widht");
  CHECK_FALSE(built.value);
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "expression.unknown_name");
  CHECK_THAT(words(built.findings), Catch::Contains("write rack.width"));
}

TEST_CASE("facts of the van are answers", "[layout][explain]") {
  const auto built = explain(kRack, "vehicle.rear_sill");
  REQUIRE(built.value);
  CHECK(built.value->kind == Origin::Kind::answered);
  CHECK(built.value->value->value == Approx(10.0));
}

TEST_CASE("a side of what is left out has no value, and is told why", "[layout][explain]") {
  const auto built = explain(
      "[options]\nwinter = false\n" + std::string(kRack) + "when = \"winter\"\n", "rack.front");
  CHECK_FALSE(built.value);
  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings[0].code == "expression.left_out");
}

TEST_CASE("what the catalogue says is explained like other values", "[layout][explain]") {
  const auto built =
      explain(std::string(kRack) +
                  "[nut.own]\nassumption = true\ndiameter = "
                  "\"6 mm\"\nwidth = \"2 * self.diameter\"\nlength = 12\nheight = 5\n"
                  "mass = \"4 g\"\n",
              "nut.own.width");
  CAPTURE(words(built.findings));
  REQUIRE(built.value);
  CHECK(built.findings.empty());
  CHECK(built.value->path == "nut.own.width");
  CHECK(built.value->written == "2 * self.diameter");
  CHECK(built.value->value == Quantity{12.0, dimension::length});
  REQUIRE(built.value->uses.size() == 1);
  CHECK(built.value->uses[0].path == "nut.own.diameter");
  CHECK(explain(kRack, "bracket.bracket_40.width").value);
  const auto values = explain(kRack, "values.gap");
  REQUIRE(values.value);
  CHECK(values.value->value == Quantity{5.0, dimension::length});
  CHECK_FALSE(explain(kRack, "bracket.bracket_41.width").value);
}

TEST_CASE("a setting that goes wrong is told, wherever it goes", "[layout][explain]") {
  for (const char* setting : {"rack.wid=3mm", "values.stat=3mm", "bracket.braket_40.width=3mm",
                              "rack.depth=3kg", "rak.depth=3mm"}) {
    const auto inputs = inputs_of_text(kRack, {setting});
    REQUIRE(inputs.value);
    const auto built = explain_value(*inputs.value, "rack.width");
    CAPTURE(setting, words(built.findings));
    CHECK_FALSE(built.value);
    REQUIRE(built.findings.size() == 1);
    CHECK(built.findings[0].place->file == "--set");
  }
}

TEST_CASE("a value that fails for a faulty catalogue entry tells of it", "[layout][explain]") {
  const std::string faulty = std::string(kRack) + "[bracket.bracket_40]\nwidth = \"1 kg\"\n";
  const auto depends = explain(faulty, "rack.bracket");
  CAPTURE(words(depends.findings));
  const auto beside = explain(faulty, "rack.depth");
  REQUIRE(beside.value);
  CHECK(beside.findings.empty());
}
