// The file as it comes with the form, and half filled in.
#include "survey/blanks.hpp"
#include "surveys.hpp"

#include <map>

using namespace surveys;

namespace {

std::string which(const Findings& findings, const std::string& subject) {
  for (const Finding& finding : findings) {
    if (finding.subjects.front() == subject) {
      REQUIRE(finding.code == "survey.blanks");
      return std::get<std::string>(finding.argument("which")->value);
    }
  }
  return "";
}

}  // namespace

TEST_CASE("blanks are told by number, a table at a time", "[survey]") {
  std::string text = survey_file({.stations = 3, .heights = 4});
  const Findings all = empty_blanks(document_of(text));
  // Head, 3 stations, 2 + 3 diagonals, 2 rows of ribs, bows, 2 arches, 2 doors, 2 channels, layers
  // of the floor, joists, 2 zones not to drill, 2 axles, weighbridge.
  CHECK(all.size() == 1 + 3 + 5 + 2 + 1 + 2 + 2 + 2 + 1 + 1 + 2 + 2 + 1);
  CHECK(which(all, "vehicle") == "1-6");
  CHECK(which(all, "weighbridge") != "");
  CHECK(which(all, "floor.layers") != "");
  CHECK(which(all, "station.s1") == "7-22");  // x, 3 heights, 3 x 4 widths

  const auto fill = [&](const std::string& blank, const std::string& figure) {
    const std::size_t at = text.find(blank);
    REQUIRE(at != std::string::npos);
    text.replace(text.find("\"\"", at), 2, figure);
  };
  fill("x = \"\"", "\"0 mm\"");
  const Findings fewer = empty_blanks(document_of(text));
  CHECK(which(fewer, "station.s1") == "8-22");
  CHECK(fewer.front().place->line > 0);
}

TEST_CASE("blanks without a number are told by key", "[survey]") {
  const Findings found = empty_blanks(
      document_of("[station.a]\nx = \"\"\nleft = [\"\", 3, \"\"] \n[arch.b]\nto = 3\n"));
  REQUIRE(found.size() == 1);
  CHECK(which(found, "station.a") == "x, left");
}

namespace {

/// A box of a van, 3.6 m long, 1.8 m wide and high: what a builder would write for a blank, as the
/// remark at the top of the file says.
std::string figure(const std::string& table, const std::string& key, int number) {
  static const std::map<std::string, std::string> by_key{{"title", "\"Box\""},
                                                         {"surveyed", "\"skin\""},
                                                         {"uncertainty", "\"3 mm\""},
                                                         {"rear_sill", "\"40 mm\""},
                                                         {"floor_thickness", "\"15 mm\""},
                                                         {"gross_limit", "\"3500 kg\""},
                                                         {"left", "\"900 mm\""},
                                                         {"right", "\"900 mm\""},
                                                         {"full", "\"1800 mm\""},
                                                         {"to.height", "\"1000 mm\""},
                                                         {"count", "7"},
                                                         {"pitch", "\"450 mm\""},
                                                         {"last", "\"3000 mm\""},
                                                         {"width", "\"60 mm\""},
                                                         {"depth", "\"20 mm\""},
                                                         {"from", "\"100 mm\""},
                                                         {"to", "\"1500 mm\""},
                                                         {"steel", "true"},
                                                         {"height", "\"300 mm\""},
                                                         {"half_width", "\"600 mm\""},
                                                         {"radius", "\"50 mm\""},
                                                         {"kind", "\"sliding\""},
                                                         {"side", "\"right\""},
                                                         {"bottom", "\"40 mm\""},
                                                         {"top", "\"1700 mm\""},
                                                         {"thickness", "\"5 mm\""},
                                                         {"at", "\"300 mm\""},
                                                         {"what", "\"fuel tank\""},
                                                         {"track", "\"1600 mm\""},
                                                         {"limit", "\"1800 kg\""},
                                                         {"empty", "\"1000 kg\""},
                                                         {"date", "2026-09-30"},
                                                         {"front", "\"1100 kg\""},
                                                         {"rear", "\"700 kg\""},
                                                         {"fuel", "0.6"},
                                                         {"persons", "0"},
                                                         {"x", "\"300 mm\""}};
  static const std::map<std::string, std::string> by_place{
      {"axle.front.x", "\"3900 mm\""},
      {"axle.rear.x", "\"1000 mm\""},
      {"opening.rear_doors.from", "\"-700 mm\""},
      {"opening.rear_doors.to", "\"700 mm\""},
      // By Pythagoras: 3600 and 1800, 1800 and 1000.
      {"diagonal.floor_left_right.length", "\"4025 mm\""},
      {"diagonal.floor_right_left.length", "\"4025 mm\""}};
  if (key == "name") return "\"layer_" + std::to_string(number) + "\"";
  if (key == "length" && table.starts_with("diagonal.across")) return "\"2059 mm\"";
  if (table.starts_with("station.") && key == "x")
    return std::to_string(900 * (std::stoi(table.substr(9)) - 1));
  if (table.starts_with("no_drill.") && key == "right") return "\"-400 mm\"";
  const auto place = by_place.find(table + "." + key);
  if (place != by_place.end()) return place->second;
  const auto plain = by_key.find(key);
  REQUIRE(plain != by_key.end());
  return plain->second;
}

std::string filled_in(std::string text, const SurveyOptions& options) {
  for (const BlankTable& table : survey_blanks(options)) {
    for (const BlankField& field : table.fields) {
      int height = 0;
      for (const Blank& blank : field.blanks) {
        ++height;
        const std::string written = field.key == "heights"
                                        ? std::to_string(200 * height)
                                        : figure(table.name, field.key, blank.number);
        text.replace(text.find("\"\"", text.find("format = 1")), 2, written);
      }
    }
  }
  return text;
}

}  // namespace

TEST_CASE("a form that is filled in is a vehicle with all that it asks for", "[survey]") {
  const SurveyOptions options;
  const Document document = document_of(filled_in(survey_file(options), options));
  CHECK(empty_blanks(document).empty());
  const Result<Vehicle> vehicle = read_vehicle(document);
  if (!vehicle) {
    for (const Finding& finding : vehicle.error())
      UNSCOPED_INFO(finding.code << " " << finding.place->line);
  }
  REQUIRE(vehicle);
  CHECK(check_survey(*vehicle, document).empty());
  CHECK(vehicle->stations.size() == 5);
  CHECK(vehicle->diagonals.size() == 7);
  CHECK(vehicle->ribs.size() == 14);
  CHECK(vehicle->rib_rows.size() == 2);
  CHECK(vehicle->bows.size() == 7);
  CHECK(vehicle->arches.size() == 2);
  CHECK(vehicle->openings.size() == 2);
  CHECK(vehicle->channels.size() == 2);
  CHECK(vehicle->floor_layers.size() == 3);
  CHECK(vehicle->joists.size() == 7);
  CHECK(vehicle->no_drill.size() == 2);
  REQUIRE(vehicle->weighbridge);
  CHECK(vehicle->weighbridge->date == "2026-09-30");
  CHECK(vehicle->front_axle->empty_kg == 1100.0);
}
