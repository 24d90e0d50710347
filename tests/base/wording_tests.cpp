#include "base/wording.hpp"
#include "longer_words.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;

TEST_CASE("texts are found by key and their places filled by name", "[base][wording]") {
  CHECK(say("mark.of_module", {{"mark", "P3"}, {"module", "Galley"}}) == "Mark P3, Galley");
  CHECK(say("mark.of_module", {{"module", "Galley"}, {"mark", "P3"}}) == "Mark P3, Galley");
  CHECK(say("forward") == "FORWARD");
  // What is filled in is not read again.
  CHECK(say("cut.through", {{"cut", "{cut}"}}) == "{cut} through");
  CHECK(say("mark.of_module", {{"mark", "P3"}}) == "Mark P3, {module}");
  CHECK(say("no.such_key") == "no.such_key");
}

TEST_CASE("another language says its own texts, in its own order, and English where it has none",
          "[base][wording]") {
  const testing::Speaking other(Language{{"mark.of_module", "{module}: {mark}"}});
  CHECK(say("mark.of_module", {{"mark", "P3"}, {"module", "Galley"}}) == "Galley: P3");
  CHECK(say("forward") == "FORWARD");
}

TEST_CASE("the table of texts is sorted, without doubles or empty texts", "[base][wording]") {
  const auto& table = english_words();
  REQUIRE(table.size() > 200);
  for (std::size_t i = 0; i < table.size(); ++i) {
    CAPTURE(table[i].key);
    CHECK(!table[i].text.empty());
    CHECK((i == 0 || table[i - 1].key < table[i].key));
    CHECK(std::ranges::count(table[i].text, '{') == std::ranges::count(table[i].text, '}'));
    for (const std::string& place : places_of(table[i].text)) CHECK(!place.empty());
  }
  CHECK(places_of("{b} of {a}, {b}") == std::vector<std::string>{"a", "b"});
}
