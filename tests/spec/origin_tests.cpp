#include "files.hpp"

#include <algorithm>
#include <sstream>

using namespace ribbay;

namespace {

SchemaPtr module_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(Schema{
      "module",
      "a module",
      {length_field("width"), length_field("depth").otherwise("self.width / 2"),
       lengths_field("levels"), flag_field("open").otherwise("false"),
       choice_field("faces", {"rear", "left"}).otherwise("rear"),
       table_field("place",
                   {length_field("gap").otherwise("0 mm"), length_field("rear"), text_field("on")}),
       keyed_field("columns", {length_field("width").needed()})}});
  return schema;
}

/// The one text that a value is which is no number.
std::string text_of(const Origin& origin) {
  REQUIRE(origin.answer.size() == 1);
  CHECK_FALSE(origin.answer.front().quantity);
  return origin.answer.front().text;
}

/// Modules of one schema, and a program that computes `NAME.front` and a width that is not given
/// from the place of the module.
struct Bench {
  Built<Document> document;
  std::unique_ptr<Evaluator> evaluator;

  explicit Bench(const std::string& text, const std::vector<std::string>& overrides = {})
      : document(load(text, overrides)) {
    REQUIRE(document.findings.empty());
    evaluator = std::make_unique<Evaluator>(document.value, resolvers());
    const Node* modules = document.value.root.find("module");
    if (modules == nullptr) return;
    for (const Entry& entry : *modules->table()) {
      evaluator->declare("module." + entry.key, module_schema(), entry.key);
    }
  }

  Origin origin(const std::string& name) {
    auto found = evaluator->origin(name);
    CAPTURE(words(evaluator->findings()));
    REQUIRE(found);
    CHECK(evaluator->findings().empty());
    return *found;
  }

 private:
  Resolvers resolvers() {
    Resolvers answers;
    answers.name = [this](std::string_view name) { return answer(std::string(name)); };
    answers.question = [](std::string_view word, std::span<const Quantity> arguments) {
      if (word != "clear_width") return Lookup{};
      return Lookup::of(1000.0 + arguments[0].value, dimension::length);
    };
    answers.known_names = [] { return std::vector<std::string>{"vehicle.sill"}; };
    return answers;
  }

  Lookup answer(const std::string& name) {
    if (name == "vehicle.sill") return Lookup::of(40.0, dimension::length);
    const std::string module = name.substr(0, name.find('.'));
    const Node* modules = document.value.root.find("module");
    if (modules == nullptr || modules->find(module) == nullptr) return {};
    if (!name.ends_with(".front") && !name.ends_with(".width")) return {};
    const Lookup rear = evaluator->remember(module + " (its place)", {}, [&]() -> Lookup {
      const auto place = evaluator->table("module." + module, "place");
      if (!place || !place->has("rear")) return Lookup::reported();
      const Quantity at{place->number("rear"), dimension::length};
      evaluator->used("clear_width", std::vector<Quantity>{at}, {900.0, dimension::length});
      return {Lookup::State::known, at, {}};
    });
    if (rear.state != Lookup::State::known) return Lookup::reported();
    const double more = name.ends_with(".front") ? 600.0 : 0.0;
    return Lookup::of(rear.quantity.value + more, dimension::length);
  }
};

std::vector<std::string> paths(const std::vector<Origin>& origins) {
  std::vector<std::string> all;
  for (const Origin& each : origins) all.push_back(each.path);
  return all;
}

using Paths = std::vector<std::string>;

}  // namespace

TEST_CASE("a value says where it is written and what its expression names", "[spec][origin]") {
  Bench bench(R"([values]
lining = "9 mm"
gap = "2 * lining + vehicle.sill + lining"
[module.rack]
width = "gap + clear_width(lining, 20 mm) + galley.width"
[module.galley]
width = 300
)");
  const Origin width = bench.origin("rack.width");
  CHECK(width.path == "module.rack.width");
  CHECK(width.kind == Origin::Kind::written);
  CHECK(width.written == "gap + clear_width(lining, 20 mm) + galley.width");
  CHECK(width.place.line == 5);
  CHECK(width.place.column == 9);
  CHECK(width.value == Quantity{67.0 + 1009.0 + 300.0, dimension::length});
  REQUIRE(paths(width.uses) ==
          Paths{"values.gap", "values.lining", "clear_width(9 mm, 20 mm)", "module.galley.width"});

  const Origin& gap = width.uses[0];
  CHECK(gap.value == Quantity{67.0, dimension::length});
  CHECK(gap.place.line == 3);
  REQUIRE(paths(gap.uses) == Paths{"values.lining", "vehicle.sill"});
  CHECK(gap.uses[1].kind == Origin::Kind::answered);
  CHECK(gap.uses[1].place.file.empty());
  CHECK(gap.uses[1].value == Quantity{40.0, dimension::length});

  const Origin& question = width.uses[2];
  CHECK(question.kind == Origin::Kind::answered);
  CHECK(question.value == Quantity{1009.0, dimension::length});
  CHECK(question.written.empty());
  CHECK(width.uses[3].written == "300");
}

TEST_CASE("a name may be written in every way that an expression may", "[spec][origin]") {
  Bench bench("[values]\nlining = \"9 mm\"\n[module.rack]\nwidth = \"lining\"\nplace.gap = 3\n");
  CHECK(bench.origin("lining").path == "values.lining");
  CHECK(bench.origin("values.lining").path == "values.lining");
  CHECK(bench.origin("rack.width").path == "module.rack.width");
  CHECK(bench.origin("module.rack.width").path == "module.rack.width");
  CHECK(bench.origin("rack.place.gap").value == Quantity{3.0, dimension::length});
  CHECK(paths(bench.origin("rack").uses) == Paths{"module.rack.width", "module.rack.place"});
  CHECK(paths(bench.origin("module.rack.place").uses) == Paths{"module.rack.place.gap"});
}

TEST_CASE("a default says so, and what it is made from", "[spec][origin]") {
  Bench bench("[module.rack]\nwidth = 30");
  const Origin depth = bench.origin("rack.depth");
  CHECK(depth.kind == Origin::Kind::fallback);
  CHECK(depth.written == "self.width / 2");
  CHECK(depth.place.file.empty());
  CHECK(depth.value == Quantity{15.0, dimension::length});
  CHECK(paths(depth.uses) == Paths{"module.rack.width"});
  CHECK(text_of(bench.origin("rack.open")) == "false");
}

TEST_CASE("a value that is no number answers with text", "[spec][origin]") {
  Bench bench(
      "[values]\na = \"9 mm\"\n[module.rack]\nfaces = \"left\"\nlevels = [\"a\", 20]\n"
      "open = true\n[module.rack.columns.first]\nwidth = \"a\"\n");
  CHECK(text_of(bench.origin("rack.faces")) == "left");
  CHECK(text_of(bench.origin("rack.open")) == "true");
  const Origin levels = bench.origin("rack.levels");
  REQUIRE(levels.answer.size() == 2);
  CHECK(levels.answer[0].quantity == Quantity{9.0, dimension::length});
  CHECK(levels.answer[1].quantity == Quantity{20.0, dimension::length});
  CHECK(levels.written == "[a, 20]");
  CHECK(paths(levels.uses) == Paths{"values.a"});
  CHECK(paths(bench.origin("rack.columns").uses) == Paths{"module.rack.columns.first.width"});
}

TEST_CASE("what the program computes from fields shows those fields", "[spec][origin]") {
  Bench bench(R"([module.rack]
place.rear = "galley.front + 5 mm"
[module.galley]
place = { rear = 10, gap = 2 }
depth = "rack.width"
)");
  const Origin width = bench.origin("rack.width");  // nobody wrote it
  CHECK(width.path == "rack.width");
  CHECK(width.kind == Origin::Kind::answered);
  CHECK(width.value == Quantity{615.0, dimension::length});
  REQUIRE(paths(width.uses) == Paths{"module.rack.place", "clear_width(615 mm)"});
  REQUIRE(paths(width.uses[0].uses) == Paths{"module.rack.place.rear"});
  const Origin& rear = width.uses[0].uses[0];
  REQUIRE(paths(rear.uses) == Paths{"galley.front"});
  CHECK(paths(rear.uses[0].uses) == Paths{"module.galley.place", "clear_width(10 mm)"});

  // Who asks second finds the same uses as who asked first.
  const Origin depth = bench.origin("galley.depth");
  REQUIRE(paths(depth.uses) == Paths{"rack.width"});
  CHECK(paths(depth.uses[0].uses) == paths(width.uses));
}

TEST_CASE("what one value replaced is kept", "[spec][origin]") {
  Bench bench("[module.rack]\nwidth = 30", {"rack.width=40 mm"});
  const Origin width = bench.origin("rack.width");
  CHECK(width.place.file == "--set");
  CHECK(width.written == "40 mm");
  REQUIRE(width.earlier.size() == 1);
  CHECK(width.earlier[0].file == "t.toml");
  CHECK(width.earlier[0].line == 2);
}

TEST_CASE("a name that nobody knows has no origin and is told", "[spec][origin]") {
  struct Row {
    const char* name;
    const char* code;
    const char* says;
  };
  const auto row = GENERATE(values<Row>({
      {"rack.widht", "expression.unknown_name", "write rack.width"},
      {"lning", "expression.unknown_name", "write lining"},
      {"vehicle.sil", "expression.unknown_name", "write vehicle.sill"},
      {"", "expression.unknown_name", "nothing is called "},
      {"values.", "expression.unknown_name", "nothing is called values."},
      {".", "expression.unknown_name", "nothing is called ."},
      {"self.width", "expression.unknown_name", "nothing is called self.width"},
      {"rack.levels", "expression.not_given", "give it a value"},
  }));
  CAPTURE(row.name);
  Bench bench("[values]\nlining = \"9 mm\"\n[module.rack]\nplace.rear = 3");
  CHECK_FALSE(bench.evaluator->origin(row.name));
  const Findings& faults = bench.evaluator->findings();
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].code == row.code);
  CHECK_FALSE(faults[0].place);
  CHECK_THAT(words(faults), Catch::Contains(row.says));
}

TEST_CASE("a failed value has an origin without a value", "[spec][origin]") {
  Bench bench("[values]\na = \"9 kg\"\n[module.rack]\nwidth = \"2 * a\"\ndepth = \"self.width\"");
  const auto depth = bench.evaluator->origin("rack.depth");
  REQUIRE(depth);
  CHECK_FALSE(depth->value);
  REQUIRE(paths(depth->uses) == Paths{"module.rack.width"});
  CHECK(paths(depth->uses[0].uses) == Paths{"values.a"});
  CHECK(codes(bench.evaluator->findings()) == std::vector<std::string>{"expression.dimension"});
}

TEST_CASE("a cycle ends", "[spec][origin][cycle]") {
  Bench bench("[values]\na = \"b + 1\"\nb = \"a + 1\"\nc = \"c\"");
  const auto a = bench.evaluator->origin("a");
  REQUIRE(a);
  CHECK_FALSE(a->value);
  REQUIRE(paths(a->uses) == Paths{"values.b"});
  REQUIRE(paths(a->uses[0].uses) == Paths{"values.a"});
  CHECK(a->uses[0].uses[0].uses.empty());
  CHECK(a->uses[0].uses[0].shortened);
  REQUIRE(bench.evaluator->origin("c"));
}

namespace {

std::size_t count(const Origin& origin) {
  std::size_t nodes = 1;
  for (const Origin& each : origin.uses) nodes += count(each);
  return nodes;
}

std::size_t levels(const Origin& origin) {
  std::size_t deepest = 0;
  for (const Origin& each : origin.uses) deepest = std::max(deepest, 1 + levels(each));
  return deepest;
}

}  // namespace

TEST_CASE("the tree stays within its limits", "[spec][origin][hostile]") {
  SECTION("each value used by all that follow: every one is opened once") {
    std::stringstream text;
    text << "[values]\nv0 = 1\nv1 = \"v0\"\n";
    for (int i = 2; i < 200; ++i)
      text << "v" << i << " = \"v" << i - 1 << " + v" << i - 2 << "\"\n";
    Bench bench(text.str());
    const Origin last = bench.origin("v199");
    CHECK(count(last) <= Origin::kMostNodes);
    CHECK(levels(last) <= Origin::kDeepest);
  }
  SECTION("a long chain") {
    std::stringstream text;
    text << "[values]\nv0 = 1\n";
    for (int i = 1; i < 200; ++i) text << "v" << i << " = \"v" << i - 1 << "\"\n";
    Bench bench(text.str());
    const Origin last = bench.origin("v199");
    CHECK(levels(last) == Origin::kDeepest);
    const Origin* deepest = &last;
    while (!deepest->uses.empty()) deepest = &deepest->uses[0];
    CHECK(deepest->shortened);
  }
  SECTION("more uses than a tree can have") {
    std::stringstream text;
    text << "[values]\n";
    std::string sum = "0";
    for (int i = 0; i < 400; ++i) {
      text << "v" << i << " = 1\n";
      sum += "+v" + std::to_string(i);
    }
    text << "all = \"" << sum << "\"\n";
    Bench bench(text.str());
    const Origin all = bench.origin("all");
    CHECK(all.value == Quantity{400.0, dimension::none});
    CHECK(all.uses.empty());
    CHECK(all.shortened);
  }
}
