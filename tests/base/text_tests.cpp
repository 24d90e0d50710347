#include "base/text.hpp"
#include "base/ways.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <cstdio>
#include <limits>
#include <random>

using namespace ribbay;

TEST_CASE("numbers are written shortest and read back the same", "[base][text]") {
  CHECK(number_text(0.0) == "0");
  CHECK(number_text(-0.0) == "0");
  CHECK(number_text(18) == "18");
  CHECK(number_text(0.1) == "0.1");
  CHECK(number_text(-2.5) == "-2.5");
  CHECK(number_text(0.1 + 0.2) == "0.30000000000000004");
  for (const double value : {1.0 / 3.0, 25.4, 1e-300, 123456789.125, -4.9406564584124654e-324}) {
    CHECK(std::strtod(number_text(value).c_str(), nullptr) == value);
  }
}

TEST_CASE("rounded numbers have no trailing zeros and no minus zero", "[base][text]") {
  struct Row {
    double value;
    int decimals;
    const char* expected;
  };
  const auto row = GENERATE(values<Row>({
      {482.6, 1, "482.6"},
      {482.60, 3, "482.6"},
      {482.0, 1, "482"},
      {100.0, 0, "100"},
      {0.04, 1, "0"},
      {-0.04, 1, "0"},
      {-0.06, 1, "-0.1"},
      {2.0004, 3, "2"},
      {1e20, 1, "100000000000000000000"},
  }));
  CAPTURE(row.value, row.decimals);
  CHECK(rounded_text(row.value, row.decimals) == row.expected);
}

TEST_CASE("numbers are rounded as the C library's printf rounds them", "[base][text]") {
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> magnitude(-6.0, 12.0);
  const auto expected = [](double value, int decimals) {
    std::array<char, 64> buffer{};
    std::snprintf(buffer.data(), buffer.size(), "%.*f", decimals, value);
    std::string text = buffer.data();
    if (text.find('.') != std::string::npos) {
      while (text.back() == '0') text.pop_back();
      if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
  };
  int wrong = 0;
  for (int i = 0; i < 200000; ++i) {
    double value = std::pow(10.0, magnitude(random)) * (i % 2 == 0 ? 1.0 : -1.0);
    const int decimals = i % 11;
    if (i % 3 == 0) {  // in the middle between two texts, or next to it
      const double tens = std::pow(10.0, decimals);
      value = (std::floor(std::abs(value) * tens) + 0.5) / tens;
      if (i % 4 == 1) value = std::nextafter(value, 0.0);
    }
    if (rounded_text(value, decimals) != expected(value, decimals)) ++wrong;
  }
  CHECK(wrong == 0);
}

TEST_CASE("the largest number can be written in full", "[base][text]") {
  const double largest = std::numeric_limits<double>::max();
  CHECK(std::strtod(rounded_text(largest, 1).c_str(), nullptr) == largest);
}

// Expected inches by hand: mm / 25.4 (exact, international yard and pound agreement of 1959),
// rounded to 1/64.
TEST_CASE("lengths are shown in mm or in inches to a 64th", "[base][text]") {
  struct Row {
    double mm;
    const char* millimetres;
    const char* inches;
  };
  const auto row = GENERATE(values<Row>({
      {0.0, "0", "0"},
      {25.4, "25.4", "1"},
      {12.7, "12.7", "1/2"},
      {482.6, "482.6", "19"},
      {600.075, "600.1", "23 5/8"},
      {132.16, "132.2", "5 13/64"},  // 5.2031 in
      {560.3875, "560.4", "22 1/16"},
      {0.1, "0.1", "0"},     // 0.25 of a 64th
      {0.2, "0.2", "1/64"},  // 0.504 of a 64th
      {-12.7, "-12.7", "-1/2"},
      {-38.1, "-38.1", "-1 1/2"},
      {-0.1, "-0.1", "0"},
      {411.15, "411.2", "16 3/16"},  // below the half as a double; 16.187 in
      {411.15000000000003, "411.2", "16 3/16"},
      {-0.05, "-0.1", "0"},
      {25.3, "25.3", "1"},  // 63.75 of a 64th
      {304.8, "304.8", "12"},
  }));
  CAPTURE(row.mm);
  CHECK(length_text(row.mm, LengthStyle::millimetres) == row.millimetres);
  CHECK(length_text(row.mm, LengthStyle::inches) == row.inches);
}

TEST_CASE("a length in inches is never more than 1/128 in off", "[base][text]") {
  for (double mm = -50; mm < 50; mm += 0.37) {
    const std::string text = length_text(mm, LengthStyle::inches);
    CAPTURE(mm, text);
    const bool minus = text.front() == '-';
    const std::string digits = minus ? text.substr(1) : text;
    const std::size_t space = digits.find(' ');
    const std::size_t stroke = digits.find('/');
    double inches = 0;
    if (stroke == std::string::npos || space != std::string::npos) inches = std::stod(digits);
    if (stroke != std::string::npos) {
      const std::size_t from = space == std::string::npos ? 0 : space + 1;
      inches += std::stod(digits.substr(from)) / std::stod(digits.substr(stroke + 1));
    }
    CHECK(std::abs((minus ? -inches : inches) - mm / 25.4) <= 1.0 / 128 + 1e-12);
  }
}

TEST_CASE("values carry their unit", "[base][text]") {
  struct Row {
    double value;
    Unit unit;
    const char* expected;
  };
  const auto row = GENERATE(values<Row>({
      {482.64, Unit::mm, "482.6 mm"},
      {0.0525, Unit::mm, "0.052 mm"},
      {-0.5, Unit::mm, "-0.5 mm"},
      {645.16, Unit::mm2, "645.2 mm2"},
      {1000, Unit::mm3, "1000 mm3"},
      {45, Unit::degree, "45 deg"},
      {12.5, Unit::kg, "12.5 kg"},
      {66.7233, Unit::newton, "66.7 N"},
      {1234.5678, Unit::newton_mm, "1235 N mm"},
      {240, Unit::mpa, "240 MPa"},
      {50, Unit::percent, "50 %"},
      {3, Unit::count, "3"},
      {0.75, Unit::none, "0.75"},
  }));
  CAPTURE(row.value);
  CHECK(value_text(row.value, row.unit, LengthStyle::millimetres) == row.expected);
  CHECK(value_text(482.6, Unit::mm, LengthStyle::inches) == "19 in");
  CHECK(value_text(45, Unit::degree, LengthStyle::inches) == "45 deg");
}

TEST_CASE("a text is split at every separator", "[base][text]") {
  CHECK(split("rack") == std::vector<std::string>{"rack"});
  CHECK(split("rack.place.gap") == std::vector<std::string>{"rack", "place", "gap"});
  CHECK(split(".a.") == std::vector<std::string>{"", "a", ""});
  CHECK(split("x;y", ';') == std::vector<std::string>{"x", "y"});
}

TEST_CASE("words are joined", "[base][text]") {
  CHECK(join(std::vector<std::string>{}, ", ").empty());
  CHECK(join(std::vector<std::string>{"a"}, ", ") == "a");
  CHECK(join(std::vector<std::string>{"a", "b", "c"}, " -> ") == "a -> b -> c");
}

TEST_CASE("the nearest word is found, and a far one is not suggested", "[base][text]") {
  const std::vector<std::string> words = {"width",      "height", "depth", "slotted_40",
                                          "slotted_30", "on",     "levels"};
  struct Row {
    const char* word;
    const char* expected;
  };
  const auto row = GENERATE(values<Row>({
      {"width", "width"},
      {"widht", "width"},
      {"Width", "width"},
      {"hieght", "height"},
      {"dept", "depth"},
      {"depths", "depth"},
      {"slotted-40", "slotted_40"},
      {"slotted40", "slotted_40"},
      {"level", "levels"},
      {"no", "on"},
      {"colour", ""},
      {"xyz", ""},
      {"", ""},
  }));
  CAPTURE(row.word);
  CHECK(nearest(row.word, words) == row.expected);
  CHECK(nearest(row.word, {}).empty());
  CHECK(nearest(std::string(100000, 'a'), words).empty());
}

TEST_CASE("of equally near words the first is taken", "[base][text]") {
  CHECK(nearest("bed", std::vector<std::string>{"red", "bad"}) == "red");
  CHECK(nearest("bed", std::vector<std::string>{"bad", "red"}) == "bad");
}

// Test vectors of 64-bit FNV-1a: draft-eastlake-fnv, appendix with test values ("", "a", "foobar").
TEST_CASE("fingerprints are 64-bit FNV-1a", "[base][text]") {
  CHECK(fingerprint("") == "cbf29ce484222325");
  CHECK(fingerprint("a") == "af63dc4c8601ec8c");
  CHECK(fingerprint("foobar") == "85944171f73967e8");
}

TEST_CASE("directions and temperatures are told in words", "[base][text]") {
  CHECK(way_text({-1, 0, 0}) == "to the rear");
  CHECK(way_text({0, 1, 0}) == "to the left");
  CHECK(way_text({0, 0, -1}) == "down");
  CHECK(way_text({0, 0.6, 0.8}) == "up and to the left, along (0, 0.6, 0.8)");
  CHECK(way_text({0, -0.999, -0.037}) == "to the right, along (0, -0.999, -0.037)");
  CHECK(celsius_text(253.15) == "-20 degC");
  CHECK(celsius_text(294.65) == "21.5 degC");
}

TEST_CASE("directions are told as builders say them", "[base][text]") {
  CHECK(van_way_text({-1, 0, 0}) == "to the rear");
  CHECK(van_way_text({0, 0, 1}) == "up");
  CHECK(van_way_text({0.999999, 0.001, 0}) == "to the front");
  CHECK(van_way_text({0, 0.6, 0.8}) == "up and 37 degrees to the left");  // 3, 4, 5
  CHECK(van_way_text({0, -0.999, -0.037}) == "to the right and slightly down");
  // Who stands behind the van and looks at what is turned to the rear sees its left on the van's
  // left; before what is turned to the left its left is at the van's front.
  CHECK(own_way_text({1, 0, 0}, {-1, 0, 0}) == "to its back");
  CHECK(own_way_text({0, 1, 0}, {-1, 0, 0}) == "to its left");
  CHECK(own_way_text({0, 1, 0}, {1, 0, 0}) == "to its right");
  CHECK(own_way_text({0, 1, 0}, {0, 1, 0}) == "to its front");
  CHECK(own_way_text({1, 0, 0}, {0, 1, 0}) == "to its left");
  CHECK(own_way_text({-0.999, 0, 0.037}, {0, 1, 0}) == "to its right and slightly up");
}
