#include "base/messages.hpp"
#include "parts.hpp"
#include "projects.hpp"
#include "temporary_folder.hpp"

#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>

using namespace ribbay;
using namespace ribbay::testing;
using Json = nlohmann::json;

namespace {

bool fits_schema(const std::string& json, const std::string& complaints = "/dev/stderr") {
  const TemporaryFolder home;
  const std::string path = (home.path() / "parts.json").string();
  std::ofstream(path, std::ios::binary) << json;
  const std::string command = "python3 -W ignore -m jsonschema -i '" + path +
                              "' '" RIBBAY_SOURCE_DIR "/params/parts.schema.json' 2>" + complaints;
  return std::system(command.c_str()) == 0;
}

BuildRecord sample() {
  PartRecord side = with(panel(600, 300), {hole(100, 50), blind_hole(20, 20, 8, "M6")});
  side.outline.holes.push_back(reversed(rectangle({200, 100}, {300, 200}, 10)));
  side.cuts.push_back({rectangle({400, -1}, {412, 301}), 6, 13, CutRole::dado});
  side.bends.push_back({{20, 0}, {20, 300}, -1.5, 2});
  side.finishes.push_back({"paint", true, false, {{600, 150}}, 0.1, 0});
  return build({side, member(800)});
}

}  // namespace

TEST_CASE("parts.json reads back as it was written, and fits its schema", "[changes][schema]") {
  const Layout layout = demo();
  const PartsRecord record = record_parts(layout);
  const OutputFile file = parts_file(record);
  CHECK(file.path == "shop/parts.json");
  const auto back = read_parts(file.bytes, "parts.json");
  REQUIRE(back);
  CHECK(parts_file(*back).bytes == file.bytes);
  CHECK(compare_builds({"a", record}, {"b", *back}).empty());
  // Words about it are the same, whether it was read or laid out.
  const BuildRecord mid{"mid", record_parts(demo({"lining=40 mm"}))};
  CHECK(changes_text(compare_builds({"a", record}, mid)) ==
        changes_text(compare_builds({"a", *back}, mid)));
  CHECK(fits_schema(file.bytes));
  CHECK(fits_schema(parts_file(sample().parts).bytes));
  // The schema lets no stranger pass.
  Json json = Json::parse(parts_file(sample().parts).bytes);
  json["parts"][0]["colour"] = "red";
  CHECK_FALSE(fits_schema(json.dump(), "/dev/null"));
  CHECK(record.parts.size() ==
        static_cast<std::size_t>(std::ranges::count_if(
            layout.parts, [](const Part& part) { return is_made(part.kind); })));
}

TEST_CASE("sections know how they map to themselves", "[changes]") {
  const PartsRecord record = record_parts(demo());
  // A square slotted profile in every way, an I-beam by halves, an equal angle about its diagonal.
  CHECK(record.sections.at("slotted_40").turns == std::vector<int>{0, 1, 2, 3, 4, 5, 6, 7});
  CHECK(record.sections.at("i_beam_80").turns == std::vector<int>{0, 2, 4, 6});
  CHECK(record.sections.at("angle_50_5").turns.size() == 2);
}

TEST_CASE("a damaged parts.json is told with its place", "[changes]") {
  const std::string good = parts_file(sample().parts).bytes;
  SECTION("cut short") {
    const std::string text = good.substr(0, good.find("\"cut_mm\""));
    const auto read = read_parts(text, "old/shop/parts.json");
    REQUIRE_FALSE(read);
    const Finding& finding = read.error().front();
    CHECK(finding.code == "changes.not_json");
    REQUIRE(finding.place);
    // Reading stops behind the last byte.
    CHECK(finding.place->line == std::ranges::count(text, '\n') + 1);
    CHECK_THAT(
        finding_text(finding, LengthStyle::millimetres),
        Catch::StartsWith("old/shop/parts.json:" + std::to_string(finding.place->line) + ":"));
  }
  SECTION("a stray letter") {
    const auto read = read_parts("{\n \"schema\": 1,\n  x\n}", "p");
    REQUIRE_FALSE(read);
    CHECK(read.error().front().place->line == 3);
    CHECK(read.error().front().place->column == 3);
  }
  SECTION("of a newer format") {
    Json json = Json::parse(good);
    json["schema"] = 2;
    const auto read = read_parts(json.dump(), "p");
    REQUIRE_FALSE(read);
    CHECK(read.error().front().code == "changes.newer");
    CHECK_THAT(finding_text(read.error().front(), LengthStyle::millimetres),
               Catch::Contains("format 2") && Catch::Contains("up to 1"));
  }
  SECTION("two parts of one id") {
    Json json = Json::parse(good);
    json["parts"][1] = json["parts"][0];
    const auto read = read_parts(json.dump(), "p");
    REQUIRE_FALSE(read);
    CHECK_THAT(finding_text(read.error().front(), LengthStyle::millimetres),
               Catch::Contains("/parts/1/id"));
  }
  SECTION("nested without end") {
    CHECK_FALSE(read_parts(std::string(200'000, '['), "p"));
    CHECK_FALSE(read_parts(
        "{\"schema\":" + std::string(100'000, '[') + std::string(100'000, ']') + "}", "p"));
  }
}

TEST_CASE(
    "every value of parts.json is asked for: without it, or of another type, it is told where",
    "[changes]") {
  const Json good = Json::parse(parts_file(sample().parts).bytes);
  const Json flat = good.flatten();
  int tried = 0;
  for (const auto& [path, value] : flat.items()) {
    for (const Json& wrong :
         {Json(Json::value_t::null), Json("what"), Json(-1e9), Json::array({1, 2})}) {
      const Json::json_pointer at(path);
      if (wrong.is_string() && value.is_string()) continue;  // most names may be any text
      Json json = good;
      json[at] = wrong;
      if (json == good) continue;
      const auto read = read_parts(json.dump(), "p");
      CAPTURE(path, wrong.dump());
      REQUIRE_FALSE(read);
      CHECK_THAT(finding_text(read.error().front(), LengthStyle::millimetres),
                 Catch::Contains("expected") || Catch::Contains("format"));
      ++tried;
    }
  }
  CHECK(tried > 200);
}

TEST_CASE("the notice in JSON and as a table tells the same as its words", "[changes]") {
  const ChangeNotice notice =
      compare_builds(build({with(panel(600, 300), {hole(100, 50)}), panel(200, 200, "box/old")}),
                     build({with(panel(580, 300), {hole(100, 50)}), member(800)}));
  const Json json = Json::parse(changes_json(notice));
  CHECK(json["schema"] == 1);
  REQUIRE(json["parts"].size() == 3);
  CHECK(json["parts"][0]["id"] == "box/old");
  CHECK(json["parts"][0]["fate"] == "gone");
  CHECK(json["parts"][1]["id"] == "box/rail");
  CHECK(json["parts"][1]["new"] == true);
  CHECK(json["parts"][2]["fate"] == "recut");
  CHECK(json["parts"][2]["from"] == "box/side");
  CHECK(json["stock"][0]["length_mm"] == 800.0);
  CHECK(json["drawings"].is_null());
  const OutputFiles files = changes_files(notice);
  REQUIRE(files.size() == 3);
  CHECK(files[1].path == "shop/changes.html");
  CHECK_THAT(files[1].bytes, Catch::Contains("box/side (P1): ") && Catch::EndsWith("</html>\n"));
  CHECK(changes_files(notice, "").front().path == "changes.csv");
  CHECK(files[0].path == "shop/changes.csv");
  CHECK_THAT(files[0].bytes,
             Catch::Contains(
                 "part,box/side,recut,P1,P1,birch_12,580 x 300 x 12,box/side,length,600,580\r\n"));
  CHECK(files[2].bytes == changes_text(notice));
  CHECK(changes_files(notice)[0].bytes == files[0].bytes);
}
