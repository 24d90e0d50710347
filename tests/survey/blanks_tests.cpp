// The file as it comes with the form, and half filled in.
#include "survey/blanks.hpp"
#include "surveys.hpp"

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
  // Head, 3 stations, 2 + 3 diagonals, 2 rows of ribs, 2 arches, 2 doors, joists, 2 axles.
  CHECK(all.size() == 1 + 3 + 5 + 2 + 2 + 2 + 1 + 2);
  CHECK(which(all, "vehicle") == "1-6");
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
