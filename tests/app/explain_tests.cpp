#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"
#include "working_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>

using namespace ribbay;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

const std::string kMarsh = RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml";

}  // namespace

TEST_CASE("explain tells where a value comes from, whichever word is the file", "[app][explain]") {
  const WorkingFolder here;
  REQUIRE(run({"new", "camper"}).code == 0);
  const std::string file = "camper/camper.toml";
  const Run value = run({"explain", "rack.width", file});
  CAPTURE(value.out, value.err);
  CHECK(value.code == 0);
  CHECK(value.err == "");
  CHECK_THAT(value.out, Catch::StartsWith("module.rack.width is "));
  CHECK_THAT(value.out,
             Catch::Contains("written   clear_width(bay - self.depth, bay, 0 mm, "
                             "self.height) - 2*lining\n  at        camper/camper.toml:"));
  CHECK_THAT(value.out, Catch::Contains("  values.bay ") && Catch::Contains("1473.2 mm"));
  CHECK_THAT(value.out, Catch::Contains("clear_width(863.6 mm, 1473.2 mm, 0 mm, 863.6 mm)"));
  CHECK(run({"explain", file, "rack.width"}).out == value.out);

  fs::current_path("camper");
  const Run here_too = run({"explain", "rack.width"});
  CHECK(here_too.code == 0);
  CHECK_THAT(here_too.out, Catch::Contains("at        camper.toml:"));
  fs::current_path("..");
}

TEST_CASE("explain counts --set and tells what it replaced", "[app][explain]") {
  const Run value = run({"explain", "lining", kMarsh, "--set", "lining=12 mm"});
  CAPTURE(value.out, value.err);
  CHECK(value.code == 0);
  CHECK_THAT(value.out, Catch::StartsWith("values.lining is 12 mm\n"));
  CHECK_THAT(value.out, Catch::Contains("  at        --set:1"));
  CHECK_THAT(value.out, Catch::Contains("  replaces  ") && Catch::Contains("marsh.toml:"));
}

TEST_CASE("a project in inches is explained in inches", "[app][explain]") {
  const TemporaryFolder folder;
  const std::string inches =
      replaced(sound_project(), "name = \"bench\"", "name = \"bench\"\nshow = \"in\"");
  const std::string file =
      write_project(folder.path(), replaced(replaced(inches, "\"900 mm\"",
                                                     "\"clear_width(0 mm, 254 mm, 0 mm, 508 "
                                                     "mm) - 25.4 mm\""),
                                            "[values]\n", "[values]\ntank = \"40 l\"\n"));
  const Run list = run({"explain", "rack.levels", file});
  CAPTURE(list.out, list.err);
  // 400 mm are 15.748 in, to a 64th 15 3/4.
  CHECK_THAT(list.out, Catch::StartsWith("module.rack.levels is 0 in, 15 3/4 in\n"));
  const Run width = run({"explain", "rack.width", file});
  CAPTURE(width.out, width.err);
  CHECK_THAT(width.out, Catch::Contains("clear_width(0 in, 10 in, 0 in, 20 in)"));
  CHECK_THAT(run({"explain", "tank", file}).out, Catch::StartsWith("values.tank is 40 l\n"));
}

TEST_CASE("a setting that goes wrong is not explained away", "[app][explain]") {
  const Run value = run({"explain", "rack.depth", kMarsh, "--set", "rack.widht=3mm"});
  CAPTURE(value.out, value.err);
  CHECK(value.code == 2);
  CHECK(value.out == "");
  CHECK_THAT(value.err, Catch::Contains("write width"));
}

TEST_CASE("explain prints the tree as JSON", "[app][explain]") {
  const Run value = run({"explain", "partition.rear", kMarsh, "--json"});
  CAPTURE(value.out, value.err);
  REQUIRE(value.code == 0);
  const Json tree = Json::parse(value.out);
  CHECK(tree["value"] == 1450.0);
  CHECK(tree["unit"] == "mm");
  CHECK(tree["uses"].size() > 0);
}

TEST_CASE("explain says what is wrong with its question", "[app][explain]") {
  const WorkingFolder here;
  SECTION("a misspelt name") {
    const Run value = run({"explain", "rack.widht", kMarsh});
    CAPTURE(value.out, value.err);
    CHECK(value.code == 2);
    CHECK(value.out == "");
    CHECK_THAT(value.err, Catch::Contains("rack.width"));
  }
  SECTION("no project in this folder") {
    const Run value = run({"explain", "rack.width"});
    CHECK(value.code == 2);
    CHECK_THAT(value.err, Catch::Contains("ribbay explain rack.width FILE"));
  }
  SECTION("two projects in this folder") {
    std::ofstream("a.toml") << "[project]\n";
    std::ofstream("b.toml") << "[project]\n";
    std::ofstream("c.toml") << "[material.x]\n";
    const Run value = run({"explain", "rack.width"});
    CHECK(value.code == 2);
    CHECK_THAT(value.err, Catch::Contains("a.toml, b.toml [explain.which_project]"));
  }
  SECTION("a file and no value") {
    const Run value = run({"explain", kMarsh});
    CHECK(value.code == 2);
    CHECK_THAT(value.err, Catch::Contains("name a value"));
  }
  SECTION("a name in several words") {
    const Run value = run({"explain", "station", "rear", kMarsh});
    CHECK(value.code == 2);
    CHECK_THAT(value.err, Catch::Contains("ribbay explain vehicle.station.rear.x FILE"));
    CHECK(run({"explain", "vehicle.station.rear.x", kMarsh}).code == 0);
  }
  SECTION("an entry of the stock that is not there") {
    const auto told = [](const std::string& name) {
      const Run value = run({"explain", name, kMarsh});
      CHECK(value.code == 2);
      CHECK(value.out == "");
      return value.err;
    };
    CHECK_THAT(told("sheet.brich_12"), Catch::Contains("the stock has no sheet.brich_12; there are: ") &&
                                           Catch::Contains("mend: write sheet.birch_12\n"));
    CHECK_THAT(told("equipment.nope"), Catch::Contains("the stock has no equipment.nope; there are: ") &&
                                           Catch::Contains("mend: write one of these\n"));
    for (const char* name : {"nope.x", "nope"}) {
      CHECK_THAT(told(name), Catch::Contains(std::string("nothing is called ") + name) &&
                                 Catch::Contains("mend: name a value as expressions do"));
    }
  }
  SECTION("a file that is not there") {
    const Run value = run({"explain", "rack.width", "nowhere.toml"});
    CHECK(value.code == 2);
    CHECK_THAT(value.err, Catch::Contains("nowhere.toml"));
  }
}

TEST_CASE("explain prints the reference and the schemas", "[app][explain]") {
  const Run page = run({"explain", "--markdown"});
  CHECK(page.code == 0);
  CHECK_THAT(page.out, Catch::StartsWith("# Parameter reference\n"));
  for (const char* which : {"project", "vehicle"}) {
    const Run schema = run({"explain", "--json-schema", which});
    CHECK(schema.code == 0);
    CHECK(Json::parse(schema.out)["$schema"] == "https://json-schema.org/draft/2020-12/schema");
  }
}

TEST_CASE("explain lists the stock of a project and tells what a bought thing needs", "[app][explain]") {
  const Run sheets = run({"explain", "sheet", kMarsh});
  CAPTURE(sheets.out, sheets.err);
  CHECK(sheets.code == 0);
  CHECK_THAT(sheets.out, Catch::StartsWith("[sheet.NAME]: the entries of this project\n"));
  CHECK_THAT(sheets.out, Catch::Contains("  birch_12 ") && Catch::Contains("Birch plywood 12 mm"));

  // As the reference names them: "name of a wood screw", "of a latch or magnet".
  const Run screws = run({"explain", "wood_screw", kMarsh});
  CHECK(screws.code == 0);
  CHECK_THAT(screws.out, Catch::StartsWith("[bolt.NAME]: what fields take as wood screw\n") &&
                             Catch::Contains("  wood_4x40 ") && !Catch::Contains("m8_"));
  CHECK(run({"explain", "wood screw", kMarsh}).out == screws.out);
  CHECK_THAT(run({"explain", "latch or magnet", kMarsh}).out,
             Catch::StartsWith("[fitting.NAME]: what fields take as latch or magnet\n") &&
                 Catch::Contains("  slam_latch ") && Catch::Contains("  magnet_20 "));

  const TemporaryFolder folder;
  const std::string named =
      replaced(sound_project(), "other = ", "wood_screw = \"40 mm\"\nother = ");
  const std::string file = write_project(folder.path(), named + R"(
[equipment.pump]
title = "Pump"
mass = 2
empty_mass = 1.5
assumption = true
air = { left = 20, top = "1 in" }
hot.back = { reaches = 80, gap = 30 }
opens.lid = { face = "top", way = "lift" }
comes_out = { towards = "top", fasteners = 1, tool = "screwdriver" }
box.body = { at = [0, 0, 0], size = [200, 120, 90] }
port.inlet = { kind = "water", at = [10, 0, 45], out = "front", diameter = 12 }
fixing.one = { at = [20, 20, 5], into = "bottom", diameter = 5 }
)");
  const Run pump = run({"explain", "equipment.pump", file});
  CAPTURE(pump.out, pump.err);
  CHECK(pump.code == 0);
  CHECK_THAT(pump.out, Catch::StartsWith("equipment.pump: Pump\n  size       200 x 120 x 90 mm\n"));
  for (const char* line :
       {"  mass       2 kg, as bought 1.5 kg\n", "  air        left 20 mm, top 25.4 mm\n",
        "  hot        back 80 degC, 30 mm from what burns or softens\n",
        "  opens      lid at the top lifts 90 deg about its back edge",
        "  comes out  to the top, 1 fastener by screwdriver\n",
        "  inlet  water     10     0  45        12  front\n",
        "  one      20    20   5         5  bottom\n", "made from\n"}) {
    CAPTURE(line);
    CHECK_THAT(pump.out, Catch::Contains(line));
  }
  CHECK(Json::parse(run({"explain", "equipment.pump", file, "--json"}).out)["name"] == "equipment.pump");
  CHECK_THAT(run({"explain", "wood_screw", file}).out, Catch::StartsWith("values.wood_screw is 40 mm"));
}
