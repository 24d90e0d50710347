#include "base/messages.hpp"
#include "committed_scan.hpp"
#include "vehicle/vehicle_scan.hpp"

#include <catch2/catch.hpp>

#include <map>

using namespace ribbay;
using namespace ribbay::tests;

namespace {

/// A vehicle file with a scan beside it, both in memory.
struct Files {
  std::string vehicle;
  std::string scan_name = "scan.ply";
  std::string scan;

  ReadFile reader() const {
    return [this](const std::string& path) -> Result<std::string> {
      if (path == "van.toml") return vehicle;
      if (path == scan_name) return scan;
      return read_file(path);
    };
  }
  Result<Vehicle> read() const {
    auto document = load_document("van.toml", {}, reader());
    if (!document.findings.empty()) return fail(document.findings);
    const Findings faults = add_scan_file(document.value, reader());
    if (!faults.empty()) return fail(faults);
    return read_vehicle(document.value, reader());
  }
};

std::string numbers(Vec3 p, double scale) {
  std::string text = point_text(p, scale);
  for (char& c : text) c = c == ' ' ? ',' : c;
  return "[" + text + "]";
}

/// The long middle van scanned in inches, in axes of the scanner; the tests replace a line.
Files sound_files() {
  constexpr double kInch = 1.0 / 25.4;
  const Vehicle van = long_mid();
  Chance chance(99);
  const Frame scanner = chance.motion();
  const double sill = van.stations.front().left.front().half_width;
  Files files;
  files.scan = ply_scan(scan_of(van, 40, {}, scanner, chance), kInch);
  files.vehicle = R"(format = 1
[vehicle]
title = "Scanned"
heights = [0, 230, 460, 820, 1180, 1440, 1570, 1650, 1688, 1700]
uncertainty = 3
[arch.wheel]
side = "both"
from = 508
to = 1322
height = 258
half_width = 668
[rib.right_front]
side = "right"
x = 3465
width = 80
depth = 36
from = 60
to = 1520
[scan]
file = "scan.ply"
unit = "in"
stations = [0, 760, 1740, 2750, 3520]
[scan.points]
)";
  files.vehicle += "sill_left = " + numbers(scanner.point({0, sill, 0}), kInch) + "\n";
  files.vehicle += "sill_right = " + numbers(scanner.point({0, -sill, 0}), kInch) + "\n";
  files.vehicle += "floor_front = " + numbers(scanner.point({3400, 0, 0}), kInch) + "\n";
  return files;
}

Files with(Files files, const std::string& from, const std::string& to) {
  const auto at = files.vehicle.find(from);
  REQUIRE(at != std::string::npos);
  files.vehicle.replace(at, from.size(), to);
  return files;
}

std::string all_text(const Findings& findings) {
  std::string text;
  for (const Finding& finding : findings) {
    text += finding_text(finding, LengthStyle::millimetres) + "\n";
  }
  return text;
}

const Finding* remark(const Vehicle& vehicle, std::string_view code) {
  const auto found = std::ranges::find(vehicle.remarks, code, &Finding::code);
  return found == vehicle.remarks.end() ? nullptr : &*found;
}

/// Largest distance between the walls of two vans, sideways, where they can be taped.
double walls_differ(const Vehicle& a, const Vehicle& b) {
  double worst = 0.0;
  for (const VanSide side : {VanSide::left, VanSide::right}) {
    for (double x = 20; x < 3500; x += 90) {
      for (double z = 300; z < 1500; z += 70) {
        const double off = std::abs(*wall_y(a, side, x, z) - *wall_y(b, side, x, z));
        if (off > 3)
          UNSCOPED_INFO((side == VanSide::left ? "left" : "right")
                        << " x " << x << " z " << z << " off " << off);
        worst = std::max(worst, off);
      }
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("a scan stands in for the tape", "[scan][vehicle]") {
  const auto van = sound_files().read();
  INFO((van ? "" : all_text(van.error())));
  REQUIRE(van);
  REQUIRE(van->stations.size() == 5);
  CHECK(van->stations[1].x == 760);
  CHECK(van->stations[1].surveyed == Surveyed::skin);
  CHECK(walls_differ(*van, long_mid()) < 3.0);
  for (const Station& station : van->stations) {
    for (const auto* wall : {&station.left, &station.right}) {
      CHECK(wall->front().z == 0.0);
      for (const WallPoint& p : *wall) CHECK(p.uncertainty >= 3.0);
    }
  }
  // Behind the arches nobody saw the wall.
  CHECK(van->stations[1].left[0].uncertainty > 6.0);
  REQUIRE(van->scan);
  CHECK(van->scan->mesh.triangles.size() > 30'000);
  CHECK(van->scan->uncertainty >= 3.0);
  CHECK(bounds(van->scan->mesh).lo.z == Approx(0).margin(6));
}

TEST_CASE("what a scan shows and does not is remarked on", "[scan][vehicle]") {
  const auto van = sound_files().read();
  REQUIRE(van);
  for (const char* code : {"scan.placed", "scan.strays", "scan.holes", "scan.not_seen"}) {
    CAPTURE(code);
    const Finding* finding = remark(*van, code);
    REQUIRE(finding);
    CHECK(finding->severity == Severity::note);
    CHECK(finding->place);
  }
  CHECK(std::get<double>(remark(*van, "scan.strays")->argument("count")->value) == 8);
  CHECK(std::get<double>(remark(*van, "scan.holes")->argument("count")->value) >= 2);
  CHECK_FALSE(remark(*van, "scan.picks_off"));
}

TEST_CASE("stations can be counted instead of listed", "[scan][vehicle]") {
  const auto van = with(sound_files(), "stations = [0, 760, 1740, 2750, 3520]", "count = 4").read();
  INFO((van ? "" : all_text(van.error())));
  REQUIRE(van);
  REQUIRE(van->stations.size() == 4);
  CHECK(van->stations.front().x == Approx(0).margin(5));
  CHECK(van->stations.back().x == Approx(3520).margin(5));
}

TEST_CASE("a taped station wins over the scan, and the difference is told", "[scan][vehicle]") {
  const Station truth = long_mid().stations[2];
  std::string station = "[station.tape]\nx = 1740\nboth = [";
  for (const WallPoint& p : truth.left) {
    station += number_text(p.half_width + (p.z == 820 ? 20 : 0)) + ",";
  }
  const Files files = with(sound_files(), "[arch.wheel]", station + "]\n[arch.wheel]");
  const auto van = files.read();
  INFO((van ? "" : all_text(van.error())));
  REQUIRE(van);
  REQUIRE(van->stations.size() == 5);
  CHECK(van->stations[2].name == "tape");
  CHECK(van->stations[2].left[3].half_width == truth.left[3].half_width + 20);
  const Finding* finding = remark(*van, "scan.tape_differs");
  REQUIRE(finding);
  CHECK(finding->subjects.front() == "tape");
  CHECK(std::get<double>(finding->argument("measured")->value) == Approx(20).margin(3));
  CHECK(std::get<double>(finding->argument("height")->value) == 820);
}

TEST_CASE("faults of a scan are told at the line that names it", "[scan][vehicle]") {
  struct Row {
    const char* from;
    const char* to;
    const char* code;
    const char* text;  ///< what stands at the place
  };
  const std::vector<Row> rows = {
      {"file = \"scan.ply\"", "file = \"missing.ply\"", "input.no_file", "missing.ply"},
      {"unit = \"in\"\n", "", "scan.no_unit", "scan.ply"},
      {"unit = \"in\"", "unit = \"mm\"", "scan.size", "mm"},
      {"stations = [0, 760, 1740, 2750, 3520]\n", "", "scan.few_stations", ""},
      {"stations = [0,", "count = 3\nstations = [0,", "scan.few_stations", ""},
      {"3520]", "5200]", "scan.station_outside", ""},
      {"heights = [0, 230,", "heights = [0, 230, 100,", "vehicle.heights_not_rising", ""},
      {"heights = [0, 230, 460, 820, 1180, 1440, 1570, 1650, 1688, 1700]\n", "",
       "scan.no_heights", ""},
      {"sill_left", "sill_lefd", "input.unknown_key", ""},
  };
  for (const Row& row : rows) {
    CAPTURE(row.to, row.code);
    const auto van = with(sound_files(), row.from, row.to).read();
    REQUIRE_FALSE(van);
    INFO(all_text(van.error()));
    const auto found = std::ranges::find(van.error(), row.code, &Finding::code);
    REQUIRE(found != van.error().end());
    REQUIRE(found->place);
    CHECK(found->place->line > 0);
    CHECK(found->place->text.find(row.text) != std::string::npos);
    CHECK_FALSE(advice_text(*found, LengthStyle::millimetres).empty());
  }
  SECTION("the unit that would fit is named") {
    const auto van = with(sound_files(), "unit = \"in\"", "unit = \"mm\"").read();
    CHECK(all_text(van.error()).find("\"in\"") != std::string::npos);
  }
  SECTION("a damaged scan") {
    Files files = sound_files();
    files.scan.resize(files.scan.size() / 2);
    const auto van = files.read();
    REQUIRE_FALSE(van);
    CHECK(van.error().front().code == "scan.cut_short");
    CHECK(van.error().front().place->text.find("scan.ply") != std::string::npos);
  }
}

TEST_CASE("the committed van reads from its scan", "[scan][vehicle][sample]") {
  const std::string path = RIBBAY_SOURCE_DIR "/params/vehicles/scanned_long_mid.toml";
  auto document = load_document(path);
  REQUIRE(document.findings.empty());
  CHECK(add_scan_file(document.value).empty());
  CHECK(document.value.inputs.back().path.ends_with("params/vehicles/long_mid_scan.glb"));
  const auto van = read_vehicle(document.value);
  INFO((van ? "" : all_text(van.error())));
  REQUIRE(van);
  CHECK(van->stations.size() == 5);
  CHECK(walls_differ(*van, long_mid()) < 3.0);
  // Without add_scan_file the scan is read when it is wanted.
  CHECK(read_vehicle(load_document(path).value).has_value());
}
