#include "files.hpp"

using namespace ribbay;

namespace {

SchemaPtr box_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(
      Schema{"box",
             "a box",
             {length_field("width"), length_field("depth").otherwise("self.width / 2"),
              length_field("height"), text_field("kind"), text_field("top"),
              table_field("place", {length_field("gap").otherwise("4 mm"), text_field("on")}),
              keyed_field("columns", {length_field("width").needed()})}});
  return schema;
}

/// An evaluator of a file with modules of that schema.
struct Bench {
  Built<Document> document;
  Evaluator evaluator;

  explicit Bench(const std::string& text, Resolvers resolvers = {})
      : document(load(text)), evaluator(document.value, std::move(resolvers)) {
    REQUIRE(document.findings.empty());
    const Node* modules = document.value.root.find("module");
    if (modules == nullptr) return;
    for (const Entry& entry : *modules->table()) {
      evaluator.declare("module." + entry.key, box_schema(), entry.key);
    }
  }
};

}  // namespace

TEST_CASE("values are computed on demand, whatever their order in the file", "[spec][evaluator]") {
  Bench bench(R"(
[module.galley]
width = "rack.depth + gap"
depth = "module.rack.width"
[module.rack]
width = "2 * lining"
depth = "self.width + 1 mm"
height = "galley.columns.left.width + rack.place.gap"
[module.galley.columns.left]
width = "self.width / 10"
[values]
gap = "lining / 3"
lining = "9 mm"
)");
  CHECK(bench.evaluator.number("module.galley", "width") == 22.0);
  CHECK(bench.evaluator.number("module.galley", "depth") == 18.0);
  CHECK(bench.evaluator.number("module.rack", "height") == Approx(6.2));
  CHECK(bench.evaluator.number("module.rack", "place.gap") == 4.0);
  CHECK(bench.evaluator.number("module.galley", "height") == std::nullopt);
  CHECK(bench.evaluator.findings().empty());
}

TEST_CASE("defaults may be expressions of the table they stand in", "[spec][evaluator]") {
  Bench bench("[module.rack]\nwidth = 30\n[module.galley]\nwidth = 50");
  CHECK(bench.evaluator.number("module.rack", "depth") == 15.0);
  CHECK(bench.evaluator.number("module.galley", "depth") == 25.0);
}

TEST_CASE("a cycle is told once with its whole path and all places", "[spec][evaluator][cycle]") {
  const std::string text = R"([module.rack]
depth = "galley.width - 1 mm"
[module.galley]
width = "2 * rack.depth"
height = "rack.depth"
)";
  Bench bench(text);
  CHECK(bench.evaluator.number("module.rack", "depth") == std::nullopt);
  CHECK(bench.evaluator.number("module.galley", "width") == std::nullopt);
  CHECK(bench.evaluator.number("module.galley", "height") == std::nullopt);
  CHECK_FALSE(bench.evaluator.record("module.galley"));
  const Findings& faults = bench.evaluator.findings();
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].code == "expression.cycle");
  CHECK(faults[0].place == Place{"t.toml", 2, 9, "\"galley.width - 1 mm\""});
  const std::string message = message_text(faults[0], LengthStyle::millimetres);
  CHECK_THAT(message,
             Catch::Contains("module.rack.depth -> module.galley.width -> module.rack.depth"));
  CHECK_THAT(message, Catch::Contains("t.toml:2, t.toml:4"));
}

TEST_CASE("a cycle through what resolvers compute is found as well", "[spec][evaluator][cycle]") {
  Evaluator* evaluator = nullptr;
  int computed = 0;
  Resolvers resolvers;
  resolvers.name = [&](std::string_view name) -> Lookup {
    if (!name.ends_with(".front")) return {};
    const std::string module(name.substr(0, name.find('.')));
    return evaluator->remember(std::string(name), {"t.toml", 9, 1, {}}, [&, module]() -> Lookup {
      ++computed;
      const auto place = evaluator->table("module." + module, "place");
      const auto width = evaluator->number("module." + module, "width");
      if (!place || !width) return Lookup::reported();
      return Lookup::of(place->number("gap") + *width, dimension::length);
    });
  };

  SECTION("no cycle: computed once for all who ask") {
    Bench bench(R"(
[module.rack]
width = 10
place.gap = "galley.front"
[module.galley]
width = 5
place.gap = 2
depth = "rack.front + galley.front"
)",
                resolvers);
    evaluator = &bench.evaluator;
    CHECK(bench.evaluator.number("module.galley", "depth") == 24.0);
    CHECK(computed == 2);
    CHECK(bench.evaluator.findings().empty());
  }
  SECTION("a cycle") {
    Bench bench(R"([module.rack]
width = 10
place.gap = "galley.front"
[module.galley]
width = 5
place.gap = "rack.front"
)",
                resolvers);
    evaluator = &bench.evaluator;
    CHECK_FALSE(bench.evaluator.record("module.rack"));
    CHECK_FALSE(bench.evaluator.record("module.galley"));
    const Findings& faults = bench.evaluator.findings();
    CAPTURE(words(faults));
    REQUIRE(faults.size() == 1);
    CHECK_THAT(
        message_text(faults[0], LengthStyle::millimetres),
        Catch::Contains("module.rack.place.gap -> galley.front -> module.galley.place.gap -> "
                        "rack.front -> module.rack.place.gap"));
  }
}

TEST_CASE("what depends on a failed value is left out without a second report",
          "[spec][evaluator]") {
  Bench bench(R"(
[module.rack]
width = "12 kg"
depth = "self.width + 1 mm"
height = "max(rack.depth, 3 mm) + twice"
[module.galley]
width = "if(1 < 2, 1 mm, rack.width) + 0 mm"
height = 3
[values]
twice = "2 * rack.width"
)");
  CHECK_FALSE(bench.evaluator.record("module.rack"));
  CHECK_FALSE(bench.evaluator.record("module.galley"));
  CHECK(bench.evaluator.number("module.galley", "height") == 3.0);
  bench.evaluator.check_values();
  CHECK(codes(bench.evaluator.findings()) == std::vector<std::string>{"expression.dimension"});
}

TEST_CASE("a resolver's reason is told at the place of the name, once", "[spec][evaluator]") {
  Resolvers resolvers;
  resolvers.name = [](std::string_view name) {
    Finding why;
    why.code = "layout.unknown_module";
    return name == "rack.front" ? Lookup::because(why) : Lookup{};
  };
  Bench bench("[module.rack]\nwidth = \"1 mm + rack.front\"\ndepth = \"self.width\"", resolvers);
  CHECK_FALSE(bench.evaluator.record("module.rack"));
  const Findings& faults = bench.evaluator.findings();
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].place->line == 2);
  CHECK(faults[0].place->column == 17);
}

TEST_CASE("a remembered reason is handed out once", "[spec][evaluator]") {
  Bench bench("x = 1");
  Finding why;
  why.code = "layout.no_answer";
  int computed = 0;
  const auto compute = [&] {
    ++computed;
    return Lookup::because(why);
  };
  CHECK(bench.evaluator.remember("a", {}, compute).finding.has_value());
  const Lookup again = bench.evaluator.remember("a", {}, compute);
  CHECK(again.state == Lookup::State::failed);
  CHECK_FALSE(again.finding.has_value());
  CHECK(computed == 1);
}

TEST_CASE("a field that is not given, or is no number, may be known to the resolver",
          "[spec][evaluator]") {
  Resolvers resolvers;
  resolvers.name = [](std::string_view name) {
    if (name == "rack.width") return Lookup::of(640.0, dimension::length);
    if (name == "rack.top") return Lookup::of(900.0, dimension::length);
    return Lookup{};
  };
  Bench bench("[module.rack]\ntop = \"oak\"\nheight = \"self.width + rack.top\"", resolvers);
  CHECK(bench.evaluator.number("module.rack", "height") == 1540.0);
}

TEST_CASE("a chain of values ends in one fault when it is too long", "[spec][evaluator][hostile]") {
  const auto chain = [](int length) {
    std::stringstream text;
    text << "[values]\nv0 = 1\n";
    for (int i = 1; i < length; ++i) text << "v" << i << " = \"v" << i - 1 << " + 1\"\n";
    text << "[module.rack]\nwidth = \"v" << length - 1 << " * 1 mm\"\n";
    return text.str();
  };
  Bench good(chain(200));
  CHECK(good.evaluator.number("module.rack", "width") == 200.0);
  Bench bad(chain(20000));
  CHECK(bad.evaluator.number("module.rack", "width") == std::nullopt);
  CHECK(codes(bad.evaluator.findings()) == std::vector<std::string>{"expression.too_deep"});
}

TEST_CASE("entries of [values] have any dimension, and are checked though nobody asks",
          "[spec][evaluator]") {
  Bench bench(
      "[values]\na = 3\nb = \"4 kg\"\nc = \"a * b / 2 mm3\"\nd = true\ne = [1]\nf = \"1 < 2\"\nk = "
      "\"\"");
  bench.evaluator.check_values();
  CHECK(codes(bench.evaluator.findings()) ==
        std::vector<std::string>{"input.wrong_type", "input.wrong_type", "expression.number_needed",
                                 "expression.empty"});
}

TEST_CASE("has() knows what is written and what has a default", "[spec][evaluator]") {
  Bench bench("[module.rack]\nwidth = 3\nplace.on = \"floor\"");
  CHECK(bench.evaluator.has("module.rack", "width"));
  CHECK(bench.evaluator.has("module.rack", "depth"));
  CHECK_FALSE(bench.evaluator.has("module.rack", "height"));
  CHECK(bench.evaluator.has("module.rack", "place.on"));
  CHECK_FALSE(bench.evaluator.has("module.rack", "no_such_field"));
  CHECK(bench.evaluator.text("module.rack", "place.on") == "floor");
  CHECK(bench.evaluator.table("module.rack", "place")->number("gap") == 4.0);
  CHECK(bench.evaluator.place("module.rack") == Place{"t.toml", 1, 1, "[module.rack]"});
}

TEST_CASE("a missing table counts as empty", "[spec][evaluator]") {
  const auto document = load("x = 1");
  Evaluator evaluator(document.value, {});
  evaluator.declare("thing", thing_schema());
  const auto record = evaluator.record("thing");
  REQUIRE(record);
  CHECK(record->number("depth") == 18.0);
  CHECK_FALSE(record->given("depth"));
}

TEST_CASE("a declared table with a bad name is told so", "[spec][evaluator]") {
  const std::string name =
      GENERATE(as<std::string>(), "Rack", "2nd", "my rack", "a.b", "\xC3\xA9t\xC3\xA9", "");
  CAPTURE(name);
  Bench bench("[module.\"" + name + "\"]\nwidth = 3\nheight = 3");
  CHECK_FALSE(bench.evaluator.record("module." + name));
  CHECK(codes(bench.evaluator.findings()) == std::vector<std::string>{"input.bad_name"});
}
