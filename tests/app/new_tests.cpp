#include "faulty_calls.hpp"
#include "run.hpp"
#include "working_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

using namespace ribbay;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

const std::vector<std::string> kVehicles = {"short_low", "long_mid", "long_high"};

std::vector<std::string> names_here() {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(".")) names.push_back(entry.path().filename());
  return names;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Every file below this folder with its bytes.
std::map<std::string, std::string> files_here() {
  std::map<std::string, std::string> files;
  for (const auto& entry : fs::recursive_directory_iterator(".")) {
    if (entry.is_regular_file()) files[entry.path()] = bytes_of(entry.path());
  }
  return files;
}

Json report_of(const std::string& project) {
  const Run result = run({"check", project, "--json", "--quiet"});
  REQUIRE(result.code == 0);
  return Json::parse(result.out);
}

}  // namespace

TEST_CASE("a new project has nothing wrong, for every van and in both units", "[app][new]") {
  const WorkingFolder here;
  for (const std::string& vehicle : kVehicles) {
    for (const std::string unit : {"mm", "in"}) {
      const std::string name = vehicle + "_" + unit;
      CAPTURE(name);
      const Run made = run({"new", name, "--vehicle", vehicle, "--unit", unit});
      CHECK(made.code == 0);
      CHECK(made.err == "");
      CHECK_THAT(made.out, Catch::Contains("ribbay build " + name + "/" + name + ".toml\n"));
      const Run checked = run({"check", name + "/" + name + ".toml"});
      CHECK(checked.code == 0);
      CHECK_THAT(checked.out, Catch::Contains("van       " + vehicle + ","));
      CHECK_THAT(checked.out, Catch::Contains("result    nothing wrong found\n"));
    }
    const Json mm = report_of(vehicle + "_mm/" + vehicle + "_mm.toml");
    const Json in = report_of(vehicle + "_in/" + vehicle + "_in.toml");
    // Whatever is built has places for felt.
    for (const Json& finding : mm["findings"]) CHECK(finding["check"] == "judgement.rattle");
    CHECK(mm["parts"].size() > 100);
    // The van in inches is written to a 16th: what follows its walls differs by as much.
    REQUIRE(in["parts"].size() == mm["parts"].size());
    for (std::size_t i = 0; i < mm["parts"].size(); ++i) {
      CHECK(in["parts"][i]["id"] == mm["parts"][i]["id"]);
      CHECK(in["parts"][i]["mass_kg"].get<double>() ==
            Approx(mm["parts"][i]["mass_kg"].get<double>()).epsilon(0.02));
    }
  }
}

TEST_CASE("a new project shows what it promises", "[app][new]") {
  const WorkingFolder here;
  REQUIRE(run({"new", "camper"}).code == 0);
  const std::string file = "camper/camper.toml";
  const Json report = report_of(file);
  CHECK(report["vehicle"]["key"] == "long_high");
  const auto has = [](const Json& of, const char* id) {
    return std::ranges::any_of(of["parts"], [&](const Json& part) { return part["id"] == id; });
  };
  CHECK(has(report, "rack/battery"));
  CHECK(has(report, "rack/water_heater"));

  // The option takes one of them away; the relation moves the rack with the partition.
  const Json cold = Json::parse(run({"check", file, "--json", "--set", "hot_water=false"}).out);
  CHECK_FALSE(has(cold, "rack/water_heater"));
  CHECK(has(cold, "rack/battery"));
  const Json moved = Json::parse(run({"check", file, "--json", "--set", "bay=1500mm"}).out);
  const auto x_of = [](const Json& of) -> double {
    for (const Json& part : of["parts"]) {
      if (part["id"] == "rack/battery") return part["box_mm"]["lo"][0].get<double>();
    }
    return NAN;
  };
  CHECK(x_of(moved) - x_of(report) == Approx(1500.0 - 1473.2).margin(1e-3));
}

TEST_CASE("the inch project is written and shown in inches", "[app][new]") {
  const WorkingFolder here;
  REQUIRE(run({"new", "camper", "--unit", "in"}).code == 0);
  const std::string text = bytes_of("camper/camper.toml");
  CHECK_THAT(text, Catch::Contains("show = \"in\""));
  CHECK_THAT(text, Catch::Contains("depth = \"24 in\""));
  CHECK_THAT(text, !Catch::Contains("<<") && !Catch::Contains(">>"));
  CHECK_THAT(run({"check", "camper/camper.toml"}).out, Catch::Contains(" in\n"));
  const std::string van = bytes_of("camper/long_high.toml");
  CHECK_THAT(van, Catch::Contains(" in\"") && !Catch::Contains(" mm\""));
}

TEST_CASE("new refuses a name that cannot be one and suggests a right one", "[app][new]") {
  struct Row {
    const char* name;
    const char* words;
  };
  const auto row = GENERATE(values<Row>({
      {"Field Van", "write field_van"},
      {"2nd", "write n2nd"},
      {"vans/camper", "write vans_camper"},
      {"../camper", "write camper"},
      {"...", "cannot name a project"},
      {"", "cannot name a project"},
  }));
  CAPTURE(row.name);
  const WorkingFolder here;
  const Run result = run({"new", row.name});
  CHECK(result.code == 2);
  CHECK(result.out == "");
  CHECK_THAT(result.err, Catch::Contains(row.words));
  CHECK(names_here().empty());
}

TEST_CASE("new leaves alone whatever stands there", "[app][new]") {
  const WorkingFolder here;
  SECTION("a folder with something in it") {
    fs::create_directory("camper");
    std::ofstream("camper/mine.txt") << "mine";
  }
  SECTION("an empty folder") {
    fs::create_directory("camper");
  }
  SECTION("a file") {
    std::ofstream("camper") << "mine";
  }
  SECTION("a link that leads nowhere") {
    fs::create_symlink("nowhere", "camper");
  }
  SECTION("an earlier project") {
    REQUIRE(run({"new", "camper"}).code == 0);
    std::ofstream("camper/camper.toml") << "mine";
  }
  const auto before = files_here();
  const Run result = run({"new", "camper", "--unit", "in"});
  CHECK(result.code == 2);
  CHECK_THAT(result.err, Catch::Contains("something named camper already") &&
                             Catch::Contains("choose another name"));
  CHECK(names_here() == std::vector<std::string>{"camper"});
  CHECK((files_here() == before));
}

TEST_CASE("a disk that fails leaves a whole new project or none", "[app][new]") {
  FaultyCalls counter(FaultyCalls::Mode::count, 0, 0);
  std::map<std::string, std::string> whole;
  {
    const WorkingFolder here;
    REQUIRE(run({"new", "camper"}, &counter).code == 0);
    whole = files_here();
  }
  int failed = 0;
  CHECK(counter.count() > 20);
  for (int nth = 1; nth <= counter.count(); ++nth) {
    CAPTURE(nth);
    const WorkingFolder here;
    FaultyCalls calls(FaultyCalls::Mode::once, nth, ENOSPC);
    const Run result = run({"new", "camper"}, &calls);
    if (result.code == 0) {  // the last thing to go wrong is giving back the lock
      CHECK((files_here() == whole));
      continue;
    }
    ++failed;
    CHECK(result.code == 3);
    CHECK_THAT(result.err, Catch::Contains("No space left"));
    CHECK_FALSE(fs::exists("camper"));
    REQUIRE(run({"new", "camper"}).code == 0);  // and the next run is not in the way of itself
    CHECK((files_here() == whole));
  }
  CHECK(failed > 20);
}
