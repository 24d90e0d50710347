// The paper and the file: the same blanks, all of them, legible.
#include "drawings/audit.hpp"
#include "survey/survey_form.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>

using namespace ribbay;

namespace {

std::vector<SurveyOptions> variants() {
  std::vector<SurveyOptions> all;
  for (const Paper paper : {Paper::a4, Paper::letter}) {
    for (const LengthStyle unit : {LengthStyle::millimetres, LengthStyle::inches}) {
      for (const int stations : {kLeastStations, 5, 7, kMostStations}) {
        for (const int heights : {kLeastHeights, 10, 13, kMostHeights})
          all.push_back({paper, stations, heights, unit});
      }
    }
  }
  return all;
}

/// The numbers behind # in the file, in order.
std::vector<int> numbers_in(const std::string& file) {
  std::vector<int> numbers;
  for (std::size_t at = file.find("\"\""); at != std::string::npos;
       at = file.find("\"\"", at + 2)) {
    const std::size_t hash = file.find('#', at);
    REQUIRE(hash != std::string::npos);
    numbers.push_back(std::stoi(file.substr(hash + 1)));
  }
  return numbers;
}

}  // namespace

TEST_CASE("no text of the form meets a line or another text, on either paper", "[survey]") {
  for (const SurveyOptions& options : variants()) {
    CAPTURE(options.stations, options.heights, options.paper == Paper::a4);
    for (const Drawing& page : survey_form(options)) {
      const auto faults = audit(page);
      CAPTURE(page.number);
      for (const Fault& fault : faults) UNSCOPED_INFO(fault.what);
      CHECK(faults.empty());
      // Printers leave a border blank; letters under 1.8 mm do not survive a copier (ISO 3098-1,
      // from memory).
      CHECK(page.frame.lo.x >= 10.0);
      for (const InkText& text : page.texts) {
        CHECK(text.height >= 1.8);
        CHECK(text.colour.empty());
        CHECK(text.text.find("…") == std::string::npos);
      }
    }
  }
}

TEST_CASE("paper has the sizes of A4 and Letter", "[survey]") {
  // ISO 216: 210 x 297 mm. ANSI/ASME Y14.1: 8.5 x 11 in. Both from memory.
  const auto a4 = survey_form({});
  CHECK(a4.front().width == 210.0);
  CHECK(a4.front().height == 297.0);
  const auto letter = survey_form({.paper = Paper::letter});
  CHECK(letter.front().width == Approx(8.5 * 25.4));
  CHECK(letter.front().height == Approx(11 * 25.4));
}

TEST_CASE("each blank stands on the paper and in the file under one number", "[survey]") {
  for (const SurveyOptions& options : variants()) {
    CAPTURE(options.stations, options.heights);
    const std::vector<int> numbers = numbers_in(survey_file(options));
    // By hand: the head 6; a station x, heights but the floor, left, right, full, and two for its
    // diagonal; floor diagonals 2; ribs 18, bows 5, arches 10, doors 6 + 4, channels 10, layers 6,
    // joists 4, zones not to drill 10, axles 8, weighbridge 5.
    const int count = 6 + options.stations * (1 + (options.heights - 1) + 3 * options.heights + 2) +
                      2 + 18 + 5 + 10 + 10 + 10 + 6 + 4 + 10 + 8 + 5;
    REQUIRE(numbers.size() == static_cast<std::size_t>(count));
    for (int i = 0; i < count; ++i) REQUIRE(numbers[static_cast<std::size_t>(i)] == i + 1);

    std::set<std::string> written;
    for (const Drawing& page : survey_form(options)) {
      for (const InkText& text : page.texts) written.insert(text.text);
    }
    for (int i = 1; i <= count; ++i) {
      CAPTURE(i);
      CHECK(written.contains(std::to_string(i)));
    }
  }
}

TEST_CASE("on the pages of lists the numbers rise down the columns", "[survey]") {
  for (const SurveyOptions& options : variants()) {
    CAPTURE(options.stations, options.heights, options.paper == Paper::a4);
    const auto pages = survey_form(options);
    int last = 0;
    int lists = 0;
    for (std::size_t p = pages.size() - 2; p < pages.size(); ++p) {
      for (const bool right : {false, true}) {
        std::vector<std::pair<double, int>> column;
        for (const InkText& text : pages[p].texts) {
          const bool number =
              std::ranges::all_of(text.text, [](char c) { return c >= '0' && c <= '9'; });
          if (number && (extent(text).centre().x > pages[p].width / 2) == right)
            column.emplace_back(-extent(text).centre().y, std::stoi(text.text));
        }
        std::ranges::sort(column);
        for (const auto& [down, number] : column) {
          CHECK(number > last);
          last = number;
          ++lists;
        }
      }
    }
    // All that stands neither on the first page nor with a station.
    CHECK(lists == 2 + 18 + 5 + 10 + 10 + 10 + 6 + 4 + 10 + 8 + 5);
  }
}

TEST_CASE("every number of a sketch has a blank with room to write in", "[survey]") {
  const SurveyOptions options;
  const auto pages = survey_form(options);
  std::map<std::string, int> seen;
  for (const Drawing& page : pages) {
    for (const InkText& text : page.texts) ++seen[text.text];
  }
  int in_rings = 0;
  for (const Drawing& page : pages) {
    for (const InkArc& ring : page.arcs) {
      for (const InkText& text : page.texts) {
        const Vec2 middle = extent(text).centre();
        if (length(middle - ring.centre) > 0.5 || std::stoi(text.text) == 0) continue;
        ++in_rings;
        CAPTURE(text.text);
        CHECK(seen[text.text] >= 2);
      }
    }
  }
  CHECK(in_rings > 30);
}

TEST_CASE("the files of a form are named, and the same in two runs", "[survey]") {
  const auto once = survey_files({});
  const auto again = survey_files({});
  REQUIRE(once);
  REQUIRE(again);
  REQUIRE(once->size() == again->size());
  for (std::size_t i = 0; i < once->size(); ++i) CHECK((*once)[i].bytes == (*again)[i].bytes);
  CHECK(once->front().path == "form.pdf");
  CHECK((*once)[1].path == "form-1.svg");
  CHECK(once->back().path == "survey.toml");
  CHECK(once->size() == survey_form({}).size() + 2);
}
