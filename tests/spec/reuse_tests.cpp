#include "base/text.hpp"
#include "files.hpp"

#include <sstream>

using namespace ribbay;

namespace {

const Node* at(const Document& document, const std::string& path) {
  const Node* node = &document.root;
  std::stringstream keys(path);
  for (std::string key; node != nullptr && std::getline(keys, key, '.');) node = node->find(key);
  return node;
}

std::string show(const Node& node);

std::string show_all(const Node::Table& entries) {
  std::vector<std::string> parts;
  for (const Entry& entry : entries) parts.push_back(entry.key + " = " + show(entry.value));
  return join(parts, ", ");
}

/// "{a = 1, b = [2, 3]}"
std::string show(const Node& node) {
  if (const auto* whole = std::get_if<std::int64_t>(&node.value)) return std::to_string(*whole);
  if (const auto* flag = std::get_if<bool>(&node.value)) return *flag ? "true" : "false";
  if (node.text() != nullptr) return *node.text();
  if (node.table() != nullptr) return "{" + show_all(*node.table()) + "}";
  std::vector<std::string> items;
  for (const Node& item : *node.array()) items.push_back(show(item));
  return "[" + join(items, ", ") + "]";
}

std::string shown(const Built<Document>& built, const std::string& path) {
  CAPTURE(words(built.findings));
  CHECK(built.findings.empty());
  const Node* node = at(built.value, path);
  REQUIRE(node != nullptr);
  return show(*node);
}

Built<Document> load_files(Files files, const std::vector<std::string>& overrides = {},
                           InputLimits limits = {}) {
  return load_document("a.toml", overrides, reader_of(std::move(files)), limits);
}

SchemaPtr module_schema() {
  static const SchemaPtr schema = std::make_shared<const Schema>(
      Schema{"module",
             "a module",
             {length_field("width").needed(), length_field("depth").otherwise("self.width / 2"),
              when_field(), based_on_field(), keyed_field("columns", {length_field("width")})}});
  return schema;
}

}  // namespace

TEST_CASE("a table based on another has its content with its own laid over it", "[spec][reuse]") {
  const auto document = load(R"(
[module.left]
width = 600
levels = [1, 2, 3]
place = { rear = 1, gap = 2 }
columns.first = { width = 1 }
columns.second = { width = 2 }
[module.right]
based_on = "left"
width = 500
levels = [4]
place = { gap = 3 }
height = 7
columns.remove = ["first"]
columns.third = { width = 3 }
)");
  CHECK(shown(document, "module.right") ==
        "{width = 500, levels = [4], place = {rear = 1, gap = 3}, columns = {second = {width = 2}, "
        "third = {width = 3}}, height = 7}");
  CHECK(
      shown(document, "module.left") ==
      "{width = 600, levels = [1, 2, 3], place = {rear = 1, gap = 2}, columns = {first = {width = "
      "1}, second = {width = 2}}}");
  REQUIRE(document.value.based_on.size() == 1);
  CHECK(document.value.based_on[0].table == "module.right");
  CHECK(document.value.based_on[0].base == "module.left");
  CHECK(document.value.based_on[0].place.line == 9);
}

TEST_CASE("every value keeps its place, and what it replaced", "[spec][reuse]") {
  const auto document = load(
      "[module.left]\nwidth = 600\ndepth = 3\n[module.right]\nbased_on = \"left\"\nwidth = 5\n");
  const Node& width = *at(document.value, "module.right.width");
  CHECK(width.place.line == 6);
  REQUIRE(width.earlier.size() == 1);
  CHECK(width.earlier[0].line == 2);
  CHECK(at(document.value, "module.right.depth")->place.line == 3);
  CHECK(at(document.value, "module.right")->place.line == 4);
}

TEST_CASE("bases may have bases, in any order, in every top-level table", "[spec][reuse]") {
  const auto document = load(R"(
[module.c]
based_on = "b"
z = 3
[module.b]
based_on = "a"
when = "winter"
y = 2
[module.a]
when = false
x = 1
[equipment.c]
based_on = "b"
[equipment.b]
mass = 4
)");
  CHECK(shown(document, "module.c") == "{x = 1, y = 2, z = 3}");
  CHECK(shown(document, "module.b") == "{x = 1, when = winter, y = 2}");
  CHECK(shown(document, "equipment.c") == "{mass = 4}");
}

TEST_CASE("includes and --set come before reuse", "[spec][reuse]") {
  const Files files = {
      {"a.toml",
       "include = [\"b.toml\"]\n[module.right]\nremove = [\"depth\", \"own\"]\nbay = 5\n"},
      {"b.toml",
       "[module.left]\nwidth = 1\ndepth = 2\n[module.right]\nbased_on = \"left\"\nown = 1"}};
  CHECK(shown(load_files(files), "module.right") == "{width = 1, bay = 5}");
  CHECK(shown(load_files(files, {"left.width=9"}), "module.right") == "{width = 9, bay = 5}");
  CHECK(shown(load_files(files, {"right.width=9"}), "module.right") == "{width = 9, bay = 5}");
  CHECK(shown(load_files(files,
                         {"right.based_on=other", "module.other.width=4", "module.other.depth=5"}),
              "module.right") == "{width = 4, bay = 5}");
}

TEST_CASE("what is removed from a table goes from its base as well", "[spec][reuse]") {
  const Files files = {
      {"a.toml", "include = [\"b.toml\"]\n[module.right]\nremove = [\"depth\"]\n"},
      {"b.toml",
       "[module.left]\nwidth = 1\ndepth = 2\n[module.right]\nbased_on = \"left\"\ndepth = 3"}};
  CHECK(shown(load_files(files), "module.right") == "{width = 1}");
}

TEST_CASE("self is the new table, and a pattern need not be whole", "[spec][reuse]") {
  const auto document = load(R"(
[module.pattern]
when = false
depth = "self.width / 4"
[module.pattern.columns.first]
width = "self.width / 10"
[module.rack]
based_on = "pattern"
width = 400
)");
  REQUIRE(document.findings.empty());
  Evaluator evaluator(document.value, {});
  for (const char* name : {"pattern", "rack"}) {
    evaluator.declare("module." + std::string(name), module_schema(), name);
    (void)evaluator.record("module." + std::string(name));
  }
  const auto rack = evaluator.record("module.rack");
  CAPTURE(words(evaluator.findings()));
  REQUIRE(rack);
  CHECK(rack->number("depth") == 100.0);
  CHECK(rack->tables("columns")[0].second.number("width") == 40.0);
  CHECK(evaluator.findings().empty());
  CHECK(evaluator.wanted("module.pattern") == false);
}

TEST_CASE("an origin tells from which table a value is inherited", "[spec][reuse][origin]") {
  const auto document = load(R"(
[module.a]
width = 1
depth = 2
columns.first.width = 3
[module.b]
based_on = "a"
depth = 4
[module.c]
based_on = "b"
columns.second.width = 5
)");
  Evaluator evaluator(document.value, {});
  for (const char* name : {"a", "b", "c"}) {
    evaluator.declare("module." + std::string(name), module_schema(), name);
  }
  const auto from = [&](const char* name) { return evaluator.origin(name)->inherited_from; };
  CHECK(from("a.width").empty());
  CHECK(from("b.width") == "module.a");
  CHECK(from("c.width") == "module.a");
  CHECK(from("b.depth").empty());
  CHECK(from("c.depth") == "module.b");
  CHECK(from("c.columns.first.width") == "module.a");
  CHECK(from("c.columns.second.width").empty());
}

TEST_CASE("what is wrong with a base is told once, with its place", "[spec][reuse][faults]") {
  struct Row {
    const char* text;
    const char* code;
    int line;
    int column;
    const char* message;
    const char* mend;
  };
  const auto row = GENERATE(values<Row>({
      {"[m.a]\nbased_on = \"lfet\"\n[m.left]\nx = 1\n", "input.unknown_base", 2, 12,
       "m.a is based on m.lfet, which is not there; there are: left", "write left"},
      {"[m.a]\nbased_on = \"b\"\n", "input.unknown_base", 2, 12,
       "m.a is based on m.b, which is not there; there are: -", ""},
      {"[m.a]\nbased_on = 3\n[m.b]\nx = 1\n", "input.wrong_base", 2, 12,
       "m.a: based_on is the name of another table, and this is a whole number",
       "write based_on = \"name\""},
      {"[m.a]\nbased_on = \"a\"\n", "input.base_cycle", 2, 12,
       "these tables are based on each other: m.a -> m.a", "take based_on out of one of them"},
      {"[m.a]\nbased_on = \"b\"\n[m.b]\nbased_on = \"c\"\n[m.c]\nbased_on = \"b\"\n",
       "input.base_cycle", 4, 12, "these tables are based on each other: m.b -> m.c -> m.b",
       "take based_on out of one of them"},
      {"[m.a]\nbased_on = \"b\"\nremove = [\"y\"]\n[m.b]\nx = 1\n", "input.remove_unknown", 3, 11,
       "there is nothing called y here to remove", "write x"},
      {"[m.a]\nbased_on = \"b\"\nremove = [[\"x\"]]\n[m.b]\nx = 1\n", "input.wrong_remove", 3, 11,
       "remove is a list of names, and this is a list", "write remove = [\"name\"]"},
      {"[m.a]\nbased_on = \"b\"\n[m]\nb = 1\n", "input.unknown_base", 2, 12,
       "m.a is based on m.b, which is not there; there are: -", ""},
  }));
  const auto document = load(row.text);
  CAPTURE(row.text, words(document.findings));
  REQUIRE(document.findings.size() == 1);
  const Finding& fault = document.findings[0];
  CHECK(fault.code == row.code);
  CHECK(fault.place->line == row.line);
  CHECK(fault.place->column == row.column);
  CHECK(message_text(fault, LengthStyle::millimetres) == row.message);
  CHECK(advice_text(fault, LengthStyle::millimetres) == row.mend);
  for (const Entry& entry : *document.value.root.find("m")->table()) {
    CHECK(entry.value.find("based_on") == nullptr);
    CHECK(entry.value.find("remove") == nullptr);
  }
}

TEST_CASE("reuse stays within the limit of values", "[spec][reuse][hostile]") {
  // Each table has twice what its base has.
  std::stringstream text;
  text << "[m.t0]\nx0 = { a = 1 }\n";
  for (int i = 1; i < 4000; ++i) {
    text << "[m.t" << i << "]\nbased_on = \"t" << i - 1 << "\"\nx" << i << " = { a = 1 }\n";
  }
  const auto document = load(text.str());
  REQUIRE(document.findings.size() == 1);
  CHECK(document.findings[0].code == "input.too_many_values");
}

TEST_CASE("a long row of bases is followed", "[spec][reuse][hostile]") {
  std::stringstream text;
  for (int i = 0; i < 29999; ++i) text << "[m.t" << i << "]\nbased_on = \"t" << i + 1 << "\"\n";
  text << "[m.t29999]\n";
  const auto document = load(text.str());
  CHECK(document.findings.empty());
  CHECK(document.value.based_on.size() == 29999);
}

TEST_CASE("many faulty bases get a short answer", "[spec][reuse][hostile]") {
  std::stringstream text;
  for (int i = 0; i < 20000; ++i) text << "[m.t" << i << "]\nbased_on = \"u" << i << "\"\n";
  CHECK(load(text.str()).findings.size() <= 500);
}
