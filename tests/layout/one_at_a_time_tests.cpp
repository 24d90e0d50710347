#include "layout/project.hpp"
#include "small_project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

Built<std::optional<Layout>> galley_with(const std::string& motions) {
  const auto inputs = read_inputs(RIBBAY_SOURCE_DIR "/params/examples/galley.toml");
  REQUIRE(inputs.value);
  Inputs changed = *inputs.value;
  const Place place{"galley.toml", 1, 1, motions};
  Node list;
  list.place = place;
  Node name;
  name.place = place;
  name.value = motions;
  list.value = Node::Array{name};
  Node rule;
  rule.place = place;
  rule.value = Node::Table{{"motions", place, list}};
  Node rules;
  rules.place = place;
  rules.value = Node::Table{{"aisle", place, rule}};
  std::get<Node::Table>(changed.project.root.value).push_back({"one_at_a_time", place, rules});
  return lay_out(changed);
}

}  // namespace

TEST_CASE("a module's name stands for all that opens in it", "[layout][pair]") {
  const auto built = galley_with("galley");
  INFO(words(built.findings));
  REQUIRE(built.value);
  REQUIRE(built.value->one_at_a_time.size() == 1);
  const auto in_galley = std::ranges::count_if(built.value->motions, [](const Motion& motion) {
    return motion.id.starts_with("galley/");
  });
  CHECK(in_galley > 1);
  CHECK(static_cast<std::ptrdiff_t>(built.value->one_at_a_time.front().motions.size()) == in_galley);
}

TEST_CASE("what names nothing that opens is told with the nearest name", "[layout][pair]") {
  const auto good = galley_with("galley");
  REQUIRE(good.value);
  const std::string id = good.value->motions.front().id;
  const auto built = galley_with(id + "x");
  REQUIRE(has_code(built.findings, "layout.no_such_motion"));
  const auto told =
      std::ranges::find(built.findings, "layout.no_such_motion", &Finding::code);
  CHECK(std::get<std::string>(told->argument("nearest")->value) == id);
  CHECK(told->place->line == 1);
}

TEST_CASE("a rule with one motion says nothing, and is told", "[layout][pair]") {
  const auto good = galley_with("galley");
  REQUIRE(good.value);
  const auto built = galley_with(good.value->motions.front().id);
  INFO(words(built.findings));
  CHECK(has_code(built.findings, "layout.one_motion_alone"));
}

TEST_CASE("rules that are no tables with names of their own are told", "[layout][pair]") {
  // [[one_at_a_time]] is a list of tables; one_at_a_time = "galley" a text; aisle = 3 a number.
  for (const char* text : {"[[one_at_a_time]]\nmotions = [\"rack\"]\n", "[one_at_a_time]\naisle = 3\n",
                           "[one_at_a_time.aisle]\nmotions = []\n"}) {
    const auto built = lay_out_text(std::string(kPlainRack) + text);
    INFO(text << words(built.findings));
    const auto error = std::ranges::find(built.findings, Severity::error, &Finding::severity);
    REQUIRE(error != built.findings.end());
    REQUIRE(error->place);
    CHECK(error->place->line > 0);
    CHECK(error->code.starts_with("input."));
  }
}
