#include "files.hpp"

#include <algorithm>

using namespace ribbay;

namespace {

SchemaPtr module_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "module",
      "a module",
      {length_field("width").needed(), length_field("depth").otherwise("self.width / 2"),
       flag_field("open").otherwise("false"), text_field("title"), when_field(),
       table_field("place", {length_field("rear"), length_field("gap")}),
       keyed_field("columns",
                   {length_field("width").needed(), length_field("height"), text_field("door")})
           .items(0, 3),
       keyed_field("shelves", {length_field("height")}).items(1, 9)}});
  return schema;
}

/// Modules that the program places: it knows NAME.front of those that are not left out.
struct Bench {
  Built<Document> document;
  std::unique_ptr<Evaluator> evaluator;

  explicit Bench(const std::string& text, const std::vector<std::string>& overrides = {})
      : document(load(text, overrides)) {
    CAPTURE(words(document.findings));
    REQUIRE(document.findings.empty());
    Resolvers resolvers;
    resolvers.name = [this](std::string_view name) {
      if (!name.ends_with(".front")) return Lookup{};
      const auto wanted =
          evaluator->wanted("module." + std::string(name.substr(0, name.find('.'))));
      if (!wanted) return Lookup::reported();
      return *wanted ? Lookup::of(900.0, dimension::length) : Lookup::left_out(dimension::length);
    };
    evaluator = std::make_unique<Evaluator>(document.value, std::move(resolvers));
    const Node* modules = document.value.root.find("module");
    if (modules == nullptr) return;
    for (const Entry& entry : *modules->table()) {
      evaluator->declare("module." + entry.key, module_schema(), entry.key);
    }
  }

  std::optional<double> value(const std::string& module, const std::string& field) {
    return evaluator->number("module." + module, field);
  }
  /// Everything that reading all of it says.
  Findings faults() {
    evaluator->check_values();
    if (const Node* modules = document.value.root.find("module")) {
      for (const Entry& entry : *modules->table()) (void)evaluator->record("module." + entry.key);
    }
    return evaluator->findings();
  }
};

std::vector<std::string> names(const Record& record, const char* field) {
  std::vector<std::string> all;
  for (const auto& [name, table] : record.tables(field)) all.push_back(name);
  return all;
}

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("an option stands for a condition wherever one can stand", "[spec][options]") {
  const std::string text = R"toml(
[options]
winter = WINTER
camper = "not winter or tank > 50 l"
both = "options.winter and camper"
[values]
tank = "60 l"
lining = "if(winter, 40 mm, 20 mm)"
[module.rack]
width = "if(options.both, lining, 10 mm)"
depth = "if(camper and not winter, 1 mm, 2 mm)"
)toml";
  const auto with = [&](const std::string& winter) {
    std::string all = text;
    return all.replace(all.find("WINTER"), 6, winter);
  };
  Bench on(with("true"));
  CHECK(on.value("rack", "width") == 40.0);
  CHECK(on.value("rack", "depth") == 2.0);
  CHECK(on.faults().empty());
  Bench off(with("false"));
  CHECK(off.value("rack", "width") == 10.0);
  CHECK(off.value("rack", "depth") == 1.0);
  CHECK(off.faults().empty());
}

TEST_CASE("an option can be set from outside, with and without the name of its table",
          "[spec][options]") {
  const std::string text =
      "[options]\nwinter = true\n[module.rack]\nwidth = \"if(winter, 40 mm, 20 mm)\"\n";
  for (const char* set : {"winter=false", "options.winter=false", "winter=1 > 2"}) {
    CAPTURE(set);
    Bench bench(text, {set});
    CHECK(bench.value("rack", "width") == 20.0);
  }
}

TEST_CASE("what is left out is not in the record, as if it were not written",
          "[spec][options][when]") {
  const std::string text = R"toml(
[options]
winter = false
[module.rack]
width = 600
[module.rack.columns.first]
width = 200
[module.rack.columns.heater]
when = "winter"
width = 300
[module.rack.columns.spare]
when = false
[module.rack.columns.last]
when = "self.width > 500 mm"
width = 100
)toml";
  Bench off(text);
  const auto record = off.evaluator->record("module.rack");
  REQUIRE(record);
  CHECK(names(*record, "columns") == Names{"first", "last"});
  CHECK(off.faults().empty());
  // With the heater too; four written entries, of which the field allows three.
  Bench on(text, {"winter=true"});
  CHECK(names(*on.evaluator->record("module.rack"), "columns") == Names{"first", "heater", "last"});
}

TEST_CASE("the count of a keyed field counts what is there", "[spec][options][when]") {
  Bench bench("[module.rack]\nwidth = 6\nshelves.a.when = false");
  CHECK_FALSE(bench.evaluator->record("module.rack"));
  CHECK(codes(bench.evaluator->findings()) == Names{"input.too_few"});
}

TEST_CASE("a module that is left out gives no record and says so", "[spec][options][when]") {
  Bench bench(R"toml(
[options]
winter = false
[module.heater]
when = "winter"
width = 300
[module.rack]
width = 3
[module.broken]
when = "wintr"
width = 3
)toml");
  CHECK(bench.evaluator->wanted("module.heater") == false);
  CHECK(bench.evaluator->wanted("module.rack") == true);
  CHECK(bench.evaluator->wanted("module.broken") == std::nullopt);
  CHECK_FALSE(bench.evaluator->record("module.heater"));
  CHECK(bench.evaluator->record("module.rack"));
  CHECK_FALSE(bench.evaluator->record("module.broken"));
  CHECK(codes(bench.faults()) == Names{"expression.unknown_name"});
}

TEST_CASE("a name that leads into what is left out is told with the condition and its place",
          "[spec][options][when]") {
  const std::string head = R"toml([options]
winter = false
[module.heater]
when = "winter"
width = 300
columns.left.width = 4
[module.galley]
width = 4
columns.fridge = { when = "self.width > 5 mm", width = 4 }
columns.never = { when = false, width = 4 }
[module.rack]
)toml";
  struct Row {
    const char* line;
    const char* says;
    const char* mend;
  };
  const auto row = GENERATE(values<Row>({
      {"width = \"heater.width\"",
       "heater.width cannot be told: module.heater is left out, since 'winter' is not so (written "
       "at t.toml:4)",
       "write if(winter, heater.width, OTHER) with what counts when it is left out"},
      {"width = \"2 * module.heater.depth\"",
       "module.heater.depth cannot be told: module.heater is left out, since 'winter' is not so "
       "(written at t.toml:4)",
       "write if(winter, module.heater.depth, OTHER) with what counts when it is left out"},
      {"width = \"heater.columns.left.width\"",
       "heater.columns.left.width cannot be told: module.heater is left out, since 'winter' is not "
       "so (written at t.toml:4)",
       "write if(winter, heater.columns.left.width, OTHER) with what counts when it is left out"},
      {"width = \"heater.front - 3 mm\"",
       "heater.front cannot be told: module.heater is left out, since 'winter' is not so (written "
       "at t.toml:4)",
       "write if(winter, heater.front, OTHER) with what counts when it is left out"},
      {"width = \"if(heater.open, 1 mm, 2 mm)\"",
       "heater.open cannot be told: module.heater is left out, since 'winter' is not so (written "
       "at "
       "t.toml:4)",
       "write if(winter, heater.open, OTHER) with what counts when it is left out"},
      {"width = \"galley.columns.fridge.width\"",
       "galley.columns.fridge.width cannot be told: module.galley.columns.fridge is left out, "
       "since "
       "'self.width > 5 mm' is not so (written at t.toml:9)",
       "write if(self.width > 5 mm, galley.columns.fridge.width, OTHER) with what counts when it "
       "is "
       "left out"},
      {"width = \"galley.columns.never.width\"",
       "galley.columns.never.width cannot be told: module.galley.columns.never is always left out",
       "write true behind its when, or do without galley.columns.never.width"},
      {"width = \"if(winter, 3 mm, heater.width)\"",
       "heater.width cannot be told: module.heater is left out, since 'winter' is not so (written "
       "at t.toml:4)",
       "write if(winter, heater.width, OTHER) with what counts when it is left out"},
  }));
  CAPTURE(row.line);
  Bench bench(head + row.line + "\n");
  CHECK_FALSE(bench.evaluator->record("module.rack"));
  const Findings& faults = bench.evaluator->findings();
  CAPTURE(words(faults));
  REQUIRE(faults.size() == 1);
  CHECK(message_text(faults[0], LengthStyle::millimetres) == row.says);
  CHECK(advice_text(faults[0], LengthStyle::millimetres) == row.mend);
  CHECK(faults[0].place->line == 12);
}

TEST_CASE("a guarded name is no fault, and still has its dimension", "[spec][options][when]") {
  const std::string head = R"toml([options]
winter = false
[module.heater]
when = "winter"
width = 300
title = "heater"
[module.rack]
)toml";
  struct Row {
    const char* line;
    double value;
  };
  const auto row = GENERATE(values<Row>({
      {"width = \"if(winter, heater.width, 20 mm)\"", 20.0},
      {"width = \"if(not winter, 20 mm, heater.width)\"", 20.0},
      {"width = \"if(winter, heater.front - heater.depth, 20 mm)\"", 20.0},
      {"width = \"if(winter, 5 mm / (heater.front / heater.width - 1), 20 mm)\"", 20.0},
      {"width = \"if(winter and heater.front > 3 mm, 1 mm, 20 mm)\"", 20.0},
      {"width = \"if(not winter or heater.open, 20 mm, 1 mm)\"", 20.0},
      {"width = \"if(winter, if(heater.open, heater.width, 1 mm), 20 mm)\"", 20.0},
  }));
  CAPTURE(row.line);
  Bench bench(head + row.line + "\n");
  CHECK(bench.value("rack", "width") == row.value);
  CAPTURE(words(bench.faults()));
  CHECK(bench.faults().empty());

  Bench wrong(head + "width = \"if(winter, heater.width, 20 kg)\"\n");
  CHECK(codes(wrong.faults()) == Names{"expression.dimensions_differ"});
}

TEST_CASE("faults inside what is left out are told, but not what hangs on other things left out",
          "[spec][options][when]") {
  Bench bench(R"toml([options]
winter = false
[module.heater]
when = "winter"
width = "3 kg"
colour = 3
depth = "self.columns.flue.width + other.front"
columns.flue = { when = "winter", width = "other.width" , height = true }
[module.other]
when = "winter"
title = "no width"
[module.rack]
width = 3
columns.gone = { when = "winter", width = "heater.front", door = 3 }
[module.kept]
width = "heater.width"
)toml");
  const Findings faults = bench.faults();
  CAPTURE(words(faults));
  std::vector<std::string> found = codes(faults);
  std::ranges::sort(found);
  CHECK(found == Names{"expression.dimension", "expression.left_out", "input.missing",
                       "input.unknown_key", "input.wrong_type", "input.wrong_type"});
}

TEST_CASE("a pattern may lack what it needs", "[spec][options][when]") {
  Bench bench("[module.pattern]\nwhen = false\ntitle = 3\n[module.rack]\nwidth = 3\n");
  CHECK(codes(bench.faults()) == Names{"input.wrong_type"});
}

TEST_CASE("conditions that need each other are a cycle", "[spec][options][cycle]") {
  Bench bench(R"toml([options]
a = "b"
b = "not a"
[module.rack]
width = 3
when = "galley.width > 2 mm"
[module.galley]
width = 3
when = "rack.width > 2 mm"
)toml");
  const Findings faults = bench.faults();
  CAPTURE(words(faults));
  CHECK(codes(faults) == Names{"expression.cycle", "expression.cycle"});
  CHECK_THAT(words(faults), Catch::Contains("options.a -> options.b -> options.a"));
  CHECK_THAT(words(faults),
             Catch::Contains("module.rack.when -> module.galley.when -> module.rack.when"));
}

TEST_CASE("an option has an origin", "[spec][options][origin]") {
  Bench bench(
      "[options]\nwinter = \"tank > 50 l\"\n[values]\ntank = \"60 l\"\n[module.rack]\nwidth = "
      "\"if(winter, 1 mm, 2 mm)\"\n[module.gone]\nwidth = 3\nwhen = \"not winter\"",
      {});
  const auto width = bench.evaluator->origin("rack.width");
  REQUIRE(width);
  REQUIRE(width->uses.size() == 1);
  CHECK(width->uses[0].path == "options.winter");
  REQUIRE(width->uses[0].answer.size() == 1);
  CHECK(width->uses[0].answer[0].text == "true");
  REQUIRE(width->uses[0].uses.size() == 1);
  CHECK(width->uses[0].uses[0].path == "values.tank");
  CHECK_FALSE(bench.evaluator->origin("gone.front"));
  CHECK(codes(bench.evaluator->findings()) == Names{"expression.left_out"});
}

TEST_CASE("a condition that fails is told once, and what stands behind it is not used",
          "[spec][options][when]") {
  Bench bench(
      "[module.rack]\nwidth = 3\nwhen = \"3 mm\"\n[module.galley]\nwidth = \"rack.width\"\n"
      "depth = \"rack.front\"\n");
  CHECK(codes(bench.faults()) == Names{"expression.condition_needed"});
}
