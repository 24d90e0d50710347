// Slips as they happen to people with a tape, planted one by one in surveys of vans whose true
// shape is known.
#include "surveys.hpp"

#include <map>

using namespace surveys;

namespace {

/// A survey without a fault, the same each time.
Survey sound(double lopsided = 0.0) {
  Random random(7);
  TrueVan van;
  van.lopsided = lopsided;
  return measured(van, random, 5, 10, 3.0);
}

const Finding* find(const Findings& findings, const std::string& code, const std::string& subject) {
  for (const Finding& finding : findings) {
    if (finding.code == code && finding.subjects.front() == subject) return &finding;
  }
  return nullptr;
}

double number(const Finding& finding, const std::string& name) {
  const Argument* argument = finding.argument(name);
  REQUIRE(argument != nullptr);
  return std::get<double>(argument->value);
}

std::string words(const Finding& finding, const std::string& name) {
  const Argument* argument = finding.argument(name);
  return argument == nullptr ? "" : std::get<std::string>(argument->value);
}

Findings doubts_in_file(const std::string& name) {
  std::string path = RIBBAY_SOURCE_DIR "/params/vehicles/";
  path += name;
  const auto document = load_document(path);
  REQUIRE(document.findings.empty());
  const auto vehicle = read_vehicle(document.value);
  REQUIRE(vehicle);
  return check_survey(*vehicle, document.value);
}

}  // namespace

TEST_CASE("good surveys raise no doubt", "[survey]") {
  for (const char* name : {"short_low.toml", "long_mid.toml", "long_high.toml"}) {
    CAPTURE(name);
    CHECK(doubts_in_file(name).empty());
  }
  CHECK(doubts(sound()).empty());
  CHECK(doubts(sound(30.0)).empty());
}

TEST_CASE("a half width out of line is named with what was asked for", "[survey]") {
  Survey survey = sound();
  for (Section& s : survey.sections) s.full.clear();
  const double truth = survey.sections[2].left[3];
  survey.sections[2].left[3] += 40.0;
  const Findings found = doubts(survey);
  REQUIRE(found.size() == 1);
  CHECK(found[0].code == "survey.out_of_line");
  CHECK(found[0].subjects[0] == "station.s3");
  CHECK(words(found[0], "list") == "left");
  CHECK(number(found[0], "height") == survey.heights[3]);
  CHECK(number(found[0], "measured") == truth + 40.0);
  CHECK(number(found[0], "required") == Approx(truth).margin(12.0));
  CHECK(found[0].severity == Severity::warning);
  REQUIRE(found[0].place);
  CHECK(found[0].place->text == rounded_text(truth + 40.0, 0));
}

TEST_CASE("two digits changed over are recognised", "[survey]") {
  Survey survey = sound();
  for (Section& s : survey.sections) s.full.clear();
  // The van is made to have about 873 here, so that 837 is one slip away from it.
  const double shift = 873.0 - survey.sections[1].right[2];
  for (Section& s : survey.sections) {
    for (double& w : s.left) w += shift;
    for (double& w : s.right) w += shift;
  }
  survey.sections[1].right[2] = 837;
  const Findings found = doubts(survey);
  const Finding* digits = find(found, "survey.out_of_line", "station.s2");
  REQUIRE(digits != nullptr);
  CHECK(words(*digits, "swapped") == "873");
  CHECK(number(*digits, "mended") == 873.0);
}

TEST_CASE("inches and centimetres among millimetres are recognised", "[survey]") {
  for (const double factor : {10.0, 25.4}) {
    CAPTURE(factor);
    Survey survey = sound();
    for (Section& s : survey.sections) s.full.clear();
    double& slip = survey.sections[2].left[3];
    slip = std::round(slip / factor * 10.0) / 10.0;
    const Findings found = doubts(survey);
    const Finding* unit = find(found, "survey.out_of_line", "station.s3");
    REQUIRE(unit != nullptr);
    CHECK(words(*unit, "slip") == rounded_text(factor, 1));
  }
}

TEST_CASE("left and right are checked against the whole width", "[survey]") {
  Survey survey = sound();
  survey.sections[3].full[4] += 60.0;
  const Findings found = doubts(survey);
  REQUIRE(found.size() == 1);
  CHECK(found[0].code == "survey.full");
  CHECK(found[0].severity == Severity::error);
  CHECK(found[0].subjects[0] == "station.s4");
  CHECK(number(found[0], "allowed") == 9.0);  // three readings of 3 mm
  // At the limit and beyond it.
  for (const double off : {9.0, 10.0}) {
    Survey edge = sound();
    Section& s = edge.sections[2];
    s.full[2] = s.left[2] + s.right[2] + off;
    CHECK(doubts(edge).empty() == (off <= 9.0));
  }
}

TEST_CASE("left and right changed over are recognised in a lopsided van", "[survey]") {
  Survey survey = sound(30.0);
  std::swap(survey.sections[2].left, survey.sections[2].right);
  const Findings found = doubts(survey);
  REQUIRE(found.size() == 1);
  CHECK(found[0].code == "survey.crossed");
  CHECK(found[0].subjects[0] == "station.s3");
  CHECK(number(found[0], "measured") == Approx(30.0).margin(6.0));
  CHECK(words(found[0], "way") == "less");
  CHECK(number(found[0], "required") == Approx(30.0).margin(6.0));
  CHECK(words(found[0], "way_beside") == "more");
}

TEST_CASE("of few stations the one that differs from most has its sides changed over", "[survey]") {
  for (const int stations : {3, 4, 5, 6}) {
    for (int at = 0; at < stations; ++at) {
      CAPTURE(stations, at);
      Random random(11);
      TrueVan van;
      van.lopsided = -20.0;
      Survey survey = measured(van, random, stations, 8, 2.0);
      Section& s = survey.sections[static_cast<std::size_t>(at)];
      std::swap(s.left, s.right);
      const Findings found = doubts(survey);
      REQUIRE(found.size() == 1);
      CHECK(found[0].code == "survey.crossed");
      CHECK(found[0].subjects[0] == "station.s" + std::to_string(at + 1));
    }
  }
}

TEST_CASE("a crooked centre line is recognised", "[survey]") {
  Survey survey = sound();
  for (double& w : survey.sections[1].left) w += 20.0;
  for (double& w : survey.sections[1].right) w -= 20.0;
  const Findings found = doubts(survey);
  REQUIRE(found.size() == 1);
  CHECK(found[0].code == "survey.centre_line");
  CHECK(found[0].subjects[0] == "station.s2");
  CHECK(number(found[0], "shift") == Approx(20.0).margin(4.0));
  CHECK(words(found[0], "side") == "right");
}

TEST_CASE("a whole station measured to something else, or in another unit", "[survey]") {
  Survey survey = sound();
  for (Section& s : survey.sections) s.full.clear();
  Survey inches = survey;
  for (auto* side : {&inches.sections[2].left, &inches.sections[2].right}) {
    for (double& w : *side) w = std::round(w / 25.4);
  }
  Findings found = doubts(inches);
  const Finding* unit = find(found, "survey.station", "station.s3");
  REQUIRE(unit != nullptr);
  CHECK(words(*unit, "slip") == "25.4");

  for (auto* side : {&survey.sections[2].left, &survey.sections[2].right}) {
    for (double& w : *side) w = std::max(w - 60.0, 10.0);
  }
  found = doubts(survey);
  CHECK(find(found, "survey.station", "station.s3") != nullptr);
}

TEST_CASE("a height out of line with those of other stations", "[survey]") {
  const Survey survey = sound();
  std::vector<double> own = survey.heights;
  own[4] += 200.0;  // still rising
  std::string text = text_of(survey);
  std::string line = list(own);
  line = "heights = " + line + "\n";
  const std::string head = "[station.s3]\n";
  text.insert(text.find(head) + head.size(), line);
  const Findings found = doubts(text);
  const Finding* height = find(found, "survey.height", "station.s3");
  REQUIRE(height != nullptr);
  CHECK(number(*height, "number") == 5.0);
  CHECK(number(*height, "measured") == own[4]);
  CHECK(number(*height, "required") == Approx(survey.heights[4]).margin(1.0));
}

TEST_CASE("a diagonal that does not close", "[survey]") {
  const Survey survey = sound();
  const auto with_length = [&](double length) {
    return text_of(survey) +
           "[diagonal.floor]\nfrom = { station = \"s1\", side = \"left\", height = 0 }\n"
           "to = { station = \"s5\", side = \"right\", height = 0 }\nlength = " +
           rounded_text(length, 0) + "\n";
  };
  // By Pythagoras.
  const double across = survey.sections[0].left[0] + survey.sections[4].right[0];
  const double along = survey.sections[4].x;
  const double truth = std::hypot(across, along);
  // The rule: 3 for the tape, 3 + 3 across, 2 x 3 along, each by its share of the direction.
  const double allowed = 3.0 + (across * 6.0 + along * 6.0) / truth;
  CHECK(doubts(with_length(truth)).empty());
  CHECK(doubts(with_length(std::floor(truth + allowed - 1.0))).empty());
  const Findings found = doubts(with_length(std::ceil(truth + allowed + 1.0)));
  REQUIRE(found.size() == 1);
  CHECK(found[0].code == "survey.diagonal");
  CHECK(number(found[0], "required") == Approx(truth));
  CHECK(number(found[0], "allowed") == Approx(allowed));
}

namespace {

/// A row of seven ribs, 440 mm from one to the next.
std::string with_rib_row(const std::string& count, const std::string& last) {
  return text_of(sound()) + "[rib.left]\nside = \"left\"\nx = 300\ncount = " + count +
         "\npitch = 440\nwidth = 60\ndepth = 20\nto = 900\nlast = " + last + "\n";
}

}  // namespace

TEST_CASE("a row of ribs ends where its last one was measured", "[survey]") {
  // By hand: 300 + 6 x 440 = 2940; allowed are 3 mm for each end and 3 for the ribs.
  for (const char* last : {"2931", "2940", "2949"}) {
    CAPTURE(last);
    CHECK(doubts(with_rib_row("7", last)).empty());
  }
  const Findings pitch = doubts(with_rib_row("7", "2970"));
  REQUIRE(pitch.size() == 1);
  CHECK(pitch[0].code == "survey.rib_row");
  CHECK(pitch[0].severity == Severity::warning);
  CHECK(pitch[0].subjects[0] == "rib.left");
  CHECK(number(pitch[0], "measured") == 2940.0);
  CHECK(number(pitch[0], "required") == 2970.0);
  CHECK(number(pitch[0], "allowed") == 9.0);
  CHECK(words(pitch[0], "which") == "pitch");
  CHECK(number(pitch[0], "mended") == 445.0);
  REQUIRE(pitch[0].place);
  CHECK(pitch[0].place->text == "2970");
  // One rib too many in the count.
  const Findings count = doubts(with_rib_row("8", "2942"));
  REQUIRE(count.size() == 1);
  CHECK(words(count[0], "which") == "count");
  CHECK(number(count[0], "mended") == 7.0);
  // Nothing is proposed for a row that would end behind its first rib.
  const Findings backward = doubts(with_rib_row("7", "100"));
  REQUIRE(backward.size() == 1);
  CHECK(backward[0].argument("which") == nullptr);
}

TEST_CASE("a thousand sound surveys of vans drawn at random", "[survey]") {
  Random random(1);
  int doubted = 0;
  std::map<std::string, int> codes;
  for (int i = 0; i < 1000; ++i) {
    const TrueVan van = any_van(random);
    const int stations = 3 + static_cast<int>(random() % 5);
    const int heights = 6 + static_cast<int>(random() % 8);
    const double uncertainty = 2.0 + static_cast<double>(random() % 4);
    const Findings found = doubts(measured(van, random, stations, heights, uncertainty));
    if (!found.empty()) ++doubted;
    for (const Finding& finding : found) ++codes[finding.code];
  }
  for (const auto& [code, count] : codes) UNSCOPED_INFO(code << " " << count);
  INFO("rate " << doubted << " of 1000");
  CHECK(doubted == 0);
}

TEST_CASE("slips of 40 mm in surveys read to 3 mm are found where they are", "[survey]") {
  Random random(2);
  int seen = 0;
  int named = 0;
  for (int i = 0; i < 300; ++i) {
    const int stations = 4 + static_cast<int>(random() % 4);
    const int heights = 8 + static_cast<int>(random() % 5);
    Survey survey = measured(any_van(random), random, stations, heights, 3.0);
    for (Section& s : survey.sections) s.full.clear();
    const std::size_t at = random() % static_cast<unsigned>(stations);
    // Below the round of the roof, where a wall is steep enough to be measured that well.
    const std::size_t index = random() % static_cast<unsigned>(heights * 7 / 10);
    const bool left = random() % 2 == 0;
    Section& s = survey.sections[at];
    (left ? s.left : s.right)[index] += random() % 2 == 0 ? 40.0 : -40.0;
    const Findings found = doubts(survey);
    if (!found.empty()) ++seen;
    const Finding* finding =
        find(found, "survey.out_of_line", "station.s" + std::to_string(at + 1));
    if (finding != nullptr && words(*finding, "list") == (left ? "left" : "right") &&
        number(*finding, "height") == survey.heights[index])
      ++named;
  }
  INFO("seen " << seen << ", named " << named << " of 300");
  CHECK(seen == 300);
  CHECK(named >= 285);
}

namespace {

/// A van of three stations that narrows towards the rear, both sides measured at once.
std::string small_van(const std::string& middle, const std::string& x = "1500") {
  return "format = 1\n[vehicle]\nheights = [0, 600, 1200, 1700]\n"
         "[station.rear]\nx = 0\nboth = [850, 900, 860, 600]\n"
         "[station.middle]\nx = " +
         x + "\nboth = " + middle + "\n[station.front]\nx = 3000\nboth = [870, 910, 865, 615]\n";
}

}  // namespace

TEST_CASE("a slip in one of three stations is looked for where it is", "[survey]") {
  CHECK(doubts(small_van("[870, 910, 870, 620]")).empty());
  for (const auto& [slip, mended] :
       {std::pair{"[780, 910, 870, 620]", "870"}, {"[870, 190, 870, 620]", "910"}}) {
    CAPTURE(slip);
    const Findings found = doubts(small_van(slip));
    REQUIRE(found.size() == 1);
    CHECK(found[0].code == "survey.out_of_line");
    CHECK(found[0].subjects[0] == "station.middle");
    CHECK(number(found[0], "required") > 0.0);
    CHECK(words(found[0], "swapped") == mended);
  }
}

TEST_CASE("a station out of the order in which it is written is asked about", "[survey]") {
  const Findings found = doubts(small_van("[870, 910, 870, 620]", "5100"));
  const Finding* order = find(found, "survey.order", "station.middle");
  REQUIRE(order != nullptr);
  CHECK(words(*order, "swapped") == "1500");
}

TEST_CASE("a slip beside a wheel arch is told although the arch cannot be read", "[survey]") {
  const Document document = document_of(
      small_van("[87, 910, 870, 620]") +
      "[arch.left]\nside = \"left\"\nfrom = 700\nto = 1500\nheight = 280\nhalf_width = 650\n");
  REQUIRE_FALSE(read_vehicle(document));
  const Findings found = check_stations_alone(document);
  REQUIRE(find(found, "survey.out_of_line", "station.middle") != nullptr);
}
