#include "base/finding.hpp"
#include "base/messages.hpp"
#include "base/result.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

using namespace ribbay;

namespace {

Finding clash() {
  Finding finding;
  finding.code = "clearance.clash";
  finding.subjects = {"rack/post.front_left", "vehicle/wall.left"};
  finding.with("measured", 12.5, Unit::mm).with("volume", 640.0, Unit::mm3).with("way", "right");
  return finding;
}

Finding at(std::string code, Severity severity, std::string file, int line, int column) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = severity;
  if (!file.empty()) finding.place = Place{std::move(file), line, column, {}};
  return finding;
}

bool is_word(std::string_view text) {
  return !text.empty() && std::ranges::all_of(text, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_';
  });
}

/// "folder.what_is_wrong"
bool is_code(std::string_view code) {
  const std::size_t dot = code.find('.');
  return dot != std::string_view::npos && is_word(code.substr(0, dot)) &&
         is_word(code.substr(dot + 1));
}

/// Every brace opens or closes a {name} or a {0}.
bool has_sound_places(std::string_view text) {
  while (true) {
    const std::size_t open = text.find_first_of("{}");
    if (open == std::string_view::npos) return true;
    const std::size_t close = text.find('}', open);
    if (text[open] == '}' || close == std::string_view::npos) return false;
    if (!is_word(text.substr(open + 1, close - open - 1))) return false;
    text.remove_prefix(close + 1);
  }
}

}  // namespace

TEST_CASE("a finding keeps its facts by name", "[base][finding]") {
  const Finding finding = clash();
  REQUIRE(finding.argument("measured") != nullptr);
  CHECK(std::get<double>(finding.argument("measured")->value) == 12.5);
  CHECK(finding.argument("measured")->unit == Unit::mm);
  CHECK(std::get<std::string>(finding.argument("way")->value) == "right");
  CHECK(finding.argument("nothing") == nullptr);
  CHECK(finding == clash());
}

TEST_CASE("input_error is an error at its place", "[base][finding]") {
  const Finding finding = input_error("input.empty", {"van.toml", 0, 0, {}});
  CHECK(finding.severity == Severity::error);
  CHECK(finding.status == Status::fail);
  CHECK(finding.place->file == "van.toml");
}

TEST_CASE("only errors count as errors", "[base][finding]") {
  CHECK_FALSE(has_errors({}));
  CHECK_FALSE(
      has_errors({at("a.b", Severity::warning, "", 0, 0), at("a.b", Severity::note, "", 0, 0)}));
  CHECK(has_errors({at("a.b", Severity::note, "", 0, 0), at("a.b", Severity::error, "", 0, 0)}));
}

TEST_CASE("findings are sorted by severity, place, code, subjects and facts", "[base][finding]") {
  const auto with_subject = [](Finding finding, std::string subject) {
    finding.subjects = {std::move(subject)};
    return finding;
  };
  const std::vector<Finding> sorted = {
      at("z.z", Severity::error, "", 0, 0),
      at("b.b", Severity::error, "a.toml", 2, 9),
      at("a.a", Severity::error, "a.toml", 10, 1),
      with_subject(at("b.b", Severity::error, "a.toml", 10, 1), "left"),
      with_subject(at("b.b", Severity::error, "a.toml", 10, 1), "right"),
      with_subject(at("b.b", Severity::error, "a.toml", 10, 1), "right")
          .with("measured", 1.0, Unit::mm),
      with_subject(at("b.b", Severity::error, "a.toml", 10, 1), "right")
          .with("measured", 2.0, Unit::mm),
      at("a.a", Severity::error, "b.toml", 1, 1),
      at("a.a", Severity::warning, "a.toml", 1, 1),
      at("a.a", Severity::note, "a.toml", 1, 1),
  };
  Findings mixed = sorted;
  unsigned state = 1;
  for (int round = 0; round < 20; ++round) {
    for (std::size_t i = mixed.size(); i > 1; --i) {
      state = state * 1664525U + 1013904223U;
      std::swap(mixed[i - 1], mixed[(state >> 16U) % i]);
    }
    sort_findings(mixed);
    CHECK(mixed == sorted);
  }
}

TEST_CASE("what was built hands over its findings in order", "[base][finding]") {
  Findings all = {at("a.a", Severity::note, "", 0, 0)};
  Built<int> built{7, {at("b.b", Severity::note, "", 0, 0), at("c.c", Severity::note, "", 0, 0)}};
  CHECK(take(std::move(built), all) == 7);
  REQUIRE(all.size() == 3);
  CHECK(all[2].code == "c.c");
}

TEST_CASE("the message table is sorted and each row is sound", "[base][messages]") {
  const auto& table = english_messages();
  REQUIRE(table.size() > 60);
  CHECK(std::ranges::is_sorted(table, {}, &Message::code));
  std::set<std::string_view> seen;
  for (const Message& row : table) {
    CAPTURE(row.code, row.text, row.advice);
    CHECK(is_code(row.code));
    CHECK(seen.insert(row.code).second);
    CHECK_FALSE(row.text.empty());
    for (const std::string& text : {std::string(row.text), std::string(row.advice)}) {
      CHECK_FALSE(text.ends_with('.'));
      CHECK_FALSE(text.ends_with(' '));
      CHECK(text.find("  ") == std::string::npos);
      CHECK_FALSE((!text.empty() && text.front() >= 'A' && text.front() <= 'Z' && text[1] >= 'a' &&
                   text[1] <= 'z'));
      CHECK(has_sound_places(text));
    }
  }
}

TEST_CASE("a message is filled with subjects and facts in the builder's unit", "[base][messages]") {
  CHECK(message_text(clash(), LengthStyle::millimetres) ==
        "rack/post.front_left cuts 12.5 mm deep into vehicle/wall.left (640 mm3 in common)");
  CHECK_THAT(message_text(clash(), LengthStyle::inches), Catch::Contains("cuts 31/64 in deep"));
  CHECK_THAT(advice_text(clash(), LengthStyle::millimetres),
             Catch::StartsWith("move rack/post.front_left by 12.5 mm right"));
}

TEST_CASE("advice whose facts are not known is not printed", "[base][messages]") {
  Finding finding = input_error("expression.unknown_name", {"van.toml", 2, 6, {}});
  finding.subjects = {"linning"};
  CHECK(advice_text(finding, LengthStyle::millimetres).empty());
  finding.with("nearest", "lining");
  CHECK(advice_text(finding, LengthStyle::millimetres) == "write lining");
}

TEST_CASE("a finding without its facts is still printed, and shows that something is missing",
          "[base][messages]") {
  Finding bare;
  bare.code = "clearance.clash";
  CHECK_THAT(message_text(bare, LengthStyle::millimetres), Catch::EndsWith("?"));
  bare.code = "no.such_code";
  bare.subjects = {"a", "b"};
  CHECK(message_text(bare, LengthStyle::millimetres) == "no.such_code: a, b");
  CHECK(advice_text(bare, LengthStyle::millimetres).empty());
}

TEST_CASE("a finding is printed with place, severity, code, text and advice", "[base][messages]") {
  Finding finding = input_error("expression.unknown_name", {"van.toml", 12, 6, "\"2 * linning\""});
  finding.subjects = {"linning"};
  finding.with("nearest", "lining");
  CHECK(finding_text(finding, LengthStyle::millimetres) ==
        "van.toml:12:6: error: nothing is called linning [expression.unknown_name]\n"
        "    \"2 * linning\"\n"
        "  mend: write lining");

  CHECK(
      finding_text(input_error("input.empty", {"van.toml", 0, 0, {}}), LengthStyle::millimetres) ==
      "van.toml: error: there is nothing in this file [input.empty]\n"
      "  mend: write its tables, or name another file");

  Finding check = clash();
  check.severity = Severity::warning;
  CHECK_THAT(finding_text(check, LengthStyle::millimetres),
             Catch::StartsWith("warning: rack/post"));
  check.severity = Severity::note;
  CHECK_THAT(finding_text(check, LengthStyle::millimetres), Catch::StartsWith("note: "));
  check.status = Status::not_proven;
  CHECK_THAT(finding_text(check, LengthStyle::millimetres), Catch::StartsWith("not proven: "));
}
