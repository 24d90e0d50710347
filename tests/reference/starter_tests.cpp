#include "spec/document.hpp"
#include "starter/starter.hpp"
#include "vehicle/vehicle.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ribbay;

namespace {

std::string vehicle_of(const std::string& van, LengthStyle unit) {
  const OutputFiles files = starter_project({.name = "x", .vehicle = van, .unit = unit});
  return std::ranges::find(files, van + ".toml", &OutputFile::path)->bytes;
}

std::vector<std::pair<std::string, Quantity>> facts_of(const std::string& text) {
  const auto document = load_document(
      "van.toml", {}, [&](const std::string&) -> Result<std::string> { return text; });
  REQUIRE(document.findings.empty());
  const auto vehicle = read_vehicle(document.value);
  REQUIRE(vehicle);
  return vehicle_facts(*vehicle);
}

}  // namespace

TEST_CASE("the sample van in inches is the one in mm", "[starter]") {
  // Every size is written to a 16th. The last of eight ribs adds up eight of them, each half a 16th
  // off at most.
  constexpr double kMost = 8 * 25.4 / 32;
  // Axle loads follow by the lever: half a 16th on an arm of 3 m moves 0.4 kg of 1600 kg.
  constexpr double kMostLoad = 0.5;
  const auto allowed = [](const Dimension& of) {
    return of == dimension::length ? kMost : of == dimension::mass ? kMostLoad : 1e-9;
  };
  for (const std::string& van : sample_vehicles()) {
    const std::string text = vehicle_of(van, LengthStyle::inches);
    CHECK(text.find(" mm\"") == std::string::npos);
    const auto inches = facts_of(text);
    const auto mm = facts_of(vehicle_of(van, LengthStyle::millimetres));
    REQUIRE(inches.size() == mm.size());
    double farthest = 0.0;
    for (std::size_t i = 0; i < mm.size(); ++i) {
      CAPTURE(van, mm[i].first, mm[i].second.value, inches[i].second.value);
      CHECK(inches[i].first == mm[i].first);
      const double off = std::abs(inches[i].second.value - mm[i].second.value);
      CHECK(off <= allowed(mm[i].second.dimension));
      if (mm[i].second.dimension == dimension::length) farthest = std::max(farthest, off);
    }
    CHECK(farthest > 0.1);  // they are rounded
  }
}
