#include "projects.hpp"
#include "report/report.hpp"
#include "sample_layout.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>
#include <limits>

using namespace ribbay;
using Json = nlohmann::json;

namespace {

Finding clash() {
  Finding finding;
  finding.code = "clearance.clash";
  finding.subjects = {"rack/shelf", "rack/battery"};
  finding.at = Vec3{12.34567, -0.0000001, 1000};
  return std::move(finding)
      .with("measured", 0.05, Unit::mm)
      .with("required", 0.0, Unit::mm)
      .with("volume", 125.0, Unit::mm3)
      .with("way", "up");
}

Finding undecided() {
  Finding finding;
  finding.code = "clearance.undecided";
  finding.severity = Severity::warning;
  finding.status = Status::not_proven;
  finding.subjects = {"rack/rail.left", "rack/shelf"};
  finding.place = Place{"sample.toml", 12, 3, "levels = [1]"};
  finding.source = "common practice, no source";
  return finding;
}

Report sample_report(const Layout& layout) {
  return {.layout = &layout,
          .inputs = {{"sample.toml", std::string(64, 'a')}},
          .settings = {"rack.depth=500mm"},
          .checks = {{"pairs of bodies", 10, 1, 1}, {"drawers and doors", 0, 0, 0}},
          .findings = {clash(), undecided()}};
}

/// True when Python's jsonschema accepts the report under params/report.schema.json. What it has to
/// say against it goes to `complaints`.
bool fits_schema(const std::string& json, const std::string& complaints = "/dev/stderr") {
  const TemporaryFolder home;
  const std::string path = (home.path() / "report.json").string();
  std::ofstream(path, std::ios::binary) << json;
  const std::string command = "python3 -W ignore -m jsonschema -i '" + path +
                              "' '" RIBBAY_SOURCE_DIR "/params/report.schema.json' 2>" + complaints;
  return std::system(command.c_str()) == 0;
}

}  // namespace

TEST_CASE("the report holds project, inputs, van, parts, findings and totals", "[report]") {
  const Layout layout = sample_layout();
  const Json json = Json::parse(report_json(sample_report(layout)));

  CHECK(json["schema"] == 1);
  CHECK(json["project"]["title"] == "A \"small\" sample");
  CHECK(json["project"]["author"].is_null());
  CHECK(json["inputs"] ==
        Json::parse(R"([{"path": "sample.toml", "sha256": ")" + std::string(64, 'a') + "\"}]"));
  CHECK(json["settings"] == Json::parse(R"(["rack.depth=500mm"])"));
  CHECK(json["vehicle"]["key"] == "test_van");
  REQUIRE(json["parts"].size() == 7);
  const Json& shelf = json["parts"][3];
  CHECK(shelf["id"] == "rack/shelf");
  CHECK(shelf["kind"] == "panel");
  CHECK(shelf["module"] == "rack");
  CHECK(shelf["material"] == "birch_plywood");
  CHECK(shelf["mass_kg"] == 6.0);
  CHECK(shelf["box_mm"] ==
        Json::parse(R"({"lo": [0.0, -200.0, 1000.0], "hi": [600.0, 200.063, 1018.0]})"));

  // By hand: mass 20 + 2 * 2 + 6 + 3 * 0.01 = 30.03; the sum of mass times centre along z is
  // 20 * 150 + 4 * 500 + 6 * 1009 + 0.03 * 1008 = 11084.24, divided by 30.03.
  CHECK(json["totals"]["mass_kg"] == 30.03);
  CHECK(json["totals"]["cog_mm"][2] == Approx(369.106).margin(0.0005));
}

TEST_CASE("a finding carries numbers, place, words and status", "[report]") {
  const Layout layout = sample_layout();
  const Json json = Json::parse(report_json(sample_report(layout)));
  REQUIRE(json["findings"].size() == 2);
  const Json& first = json["findings"][0];
  CHECK(first["check"] == "clearance.clash");
  CHECK(first["severity"] == "error");
  CHECK(first["status"] == "fail");
  CHECK(first["subjects"] == Json::parse(R"(["rack/shelf", "rack/battery"])"));
  CHECK(first["measured"] == 0.05);
  CHECK(first["required"] == 0.0);
  CHECK(first["unit"] == "mm");
  CHECK(first["at_mm"].dump() == "[12.346,0.0,1000.0]");
  CHECK(first["place"].is_null());
  CHECK_THAT(first["message"].get<std::string>(),
             Catch::Contains("rack/battery") && Catch::Contains("0.05 mm"));
  CHECK(first["source"].is_null());
  const Json& second = json["findings"][1];
  CHECK(second["status"] == "not proven");
  CHECK(second["measured"].is_null());
  CHECK(second["place"] == Json::parse(R"({"file": "sample.toml", "line": 12, "column": 3})"));
  CHECK(second["source"] == "common practice, no source");
}

TEST_CASE("the report tells how equipment comes out", "[report][schema]") {
  Layout layout = sample_layout();
  layout.catalogue = std::make_shared<const Catalogue>();
  layout.removals.push_back({.id = "rack/battery",
                             .direction = {0, 0, 1},
                             .travel = 210.5,
                             .fasteners = 2,
                             .life_years = 10,
                             .tool = "spanner 10 mm"});
  const Report report = sample_report(layout);
  CHECK(fits_schema(report_json(report)));
  const Json json = Json::parse(report_json(report));
  REQUIRE(json["removals"].size() == 1);
  const Json& steps = json["removals"][0]["steps"];
  REQUIRE(steps.size() == 2);
  CHECK(steps[0]["fasteners"] == 2);
  CHECK(steps[0]["travel_mm"].is_null());
  CHECK(steps[1]["direction"] == Json::parse("[0.0, 0.0, 1.0]"));
  CHECK(steps[1]["travel_mm"] == 210.5);
  CHECK_THAT(summary_text(report),
             Catch::Contains("comes out rack/battery: undo 2 x its own fixings (spanner 10 mm); "
                             "take out Battery, 210.5 mm up\n"));
}

TEST_CASE("report.json fits its schema", "[report][schema]") {
  const Layout layout = sample_layout();
  Report report = sample_report(layout);
  CHECK(fits_schema(report_json(report)));
  SECTION("with nothing in the van") {
    Layout empty = layout;
    empty.parts.clear();
    report.layout = &empty;
    CHECK(fits_schema(report_json(report)));
  }
  SECTION("when the input was too wrong to lay out") {
    report.layout = nullptr;
    CHECK(fits_schema(report_json(report)));
  }
  SECTION("with numbers that are none") {
    report.findings[0].arguments[0].value = std::numeric_limits<double>::quiet_NaN();
    CHECK(fits_schema(report_json(report)));
  }
  SECTION("with text that is not UTF-8") {
    report.findings[0].subjects[0] = "\xff\xfe";
    CHECK(fits_schema(report_json(report)));
  }
}

TEST_CASE("the report tells the order of assembly, step by step", "[report][schema]") {
  const Layout layout = testing::demo();
  const AssemblyPlan plan = plan_assembly(layout);
  const Report report{.layout = &layout, .assembly = &plan, .inputs = {}, .settings = {},
                      .checks = {}, .findings = {}};
  CHECK(fits_schema(report_json(report)));
  const Json json = Json::parse(report_json(report));
  REQUIRE(json["assembly"].size() == plan.units.size());
  std::size_t heavy = 0;
  for (std::size_t u = 0; u < plan.units.size(); ++u) {
    const Json& unit = json["assembly"][u];
    CHECK(unit["unit"] == plan.units[u].name);
    REQUIRE(unit["steps"].size() == plan.units[u].steps.size());
    for (std::size_t s = 0; s < plan.units[u].steps.size(); ++s) {
      const AssemblyStep& step = plan.units[u].steps[s];
      const Json& told = unit["steps"][s];
      CHECK(told["parts"] == step.parts);
      CHECK(told["held"] == step.held);
      CHECK(told["travel_mm"].is_null() == !step.straight);
      CHECK(told["fasteners"].size() == step.fasteners.size());
      CHECK(told["lift"].is_null() == (step.mass_kg <= 25.0));
      if (told["lift"].is_null()) continue;
      ++heavy;
      CHECK(told["lift"]["ends"][0]["mass_kg"].get<double>() +
                told["lift"]["ends"][1]["mass_kg"].get<double>() ==
            Approx(step.mass_kg).margin(0.1));
    }
  }
  CHECK(heavy > 0);
}

// The schema would be no use if it let everything pass.
TEST_CASE("the schema refuses reports with something missing, renamed or of another type",
          "[report][schema]") {
  const Layout layout = sample_layout();
  Json json = Json::parse(report_json(sample_report(layout)));
  const auto spoil = GENERATE(values<void (*)(Json&)>({
      [](Json& j) { j.erase("totals"); },
      [](Json& j) { j["schema"] = 2; },
      [](Json& j) { j["parts"][0]["kind"] = "widget"; },
      [](Json& j) { j["parts"][0]["weight"] = 3; },
      [](Json& j) { j["inputs"][0]["sha256"] = "abc"; },
      [](Json& j) {
        j["findings"][0]["at_mm"] = Json::array({1, 2});
      },
      [](Json& j) { j["findings"][0]["measured"] = "0.05 mm"; },
      [](Json& j) { j.erase("assembly"); },
      [](Json& j) { j["assembly"].push_back({{"unit", "rack"}}); },
  }));
  spoil(json);
  CHECK_FALSE(fits_schema(json.dump(), "/dev/null"));
}

TEST_CASE("the summary says what was built, what is wrong, and whether to cut",
          "[report][summary]") {
  const Layout layout = sample_layout();
  Report report = sample_report(layout);
  const std::string text = summary_text(report);
  CHECK_THAT(text, Catch::Contains("project   sample, A \"small\" sample\n"));
  CHECK_THAT(text, Catch::Contains("van       test_van, Van for tests\n"));
  CHECK_THAT(text,
             Catch::Contains("7 parts in 1 module: 2 member, 1 panel, 3 hardware, 1 equipment\n"));
  // By hand: 20 * 200 + 4 * 20 + 6 * 300 + 0.03 * 12 = 5880.36 along x; 2 * 120 - 2 * 80 + 6 *
  // 0.03145
  // + 0.03 * 2 = 80.25 along y; each divided by 30.03.
  CHECK_THAT(text, Catch::Contains(
                       "mass      30.03 kg, centre of gravity at x 195.8, y 2.7, z 369.1 mm\n"));
  CHECK_THAT(text,
             Catch::Contains("checks    pairs of bodies: 10 passed, 1 failed, 1 not proven\n"));
  CHECK_THAT(text, Catch::Contains("error: rack/shelf cuts 0.05 mm deep into rack/battery"));
  CHECK_THAT(text, Catch::Contains("sample.toml:12:3: not proven: "));
  CHECK_THAT(text, Catch::EndsWith("result    1 error, 1 not proven: NOT FOR CUTTING\n"));

  report.findings.clear();
  CHECK_THAT(summary_text(report), Catch::EndsWith("result    nothing wrong found\n"));
}

TEST_CASE("the report is the same text every time", "[report]") {
  const Layout layout = sample_layout();
  const auto once = report_files(sample_report(layout));
  const auto twice = report_files(sample_report(layout));
  REQUIRE(once.size() == 2);
  CHECK(once[0].bytes == twice[0].bytes);
  CHECK(once[0].path == "report.json");
  CHECK(once[1].path == "summary.txt");
}
