#include "files.hpp"

#include <filesystem>
#include <fstream>

using namespace ribbay;

namespace {

Built<Document> load_files(Files files, const std::vector<std::string>& overrides = {},
                           const InputLimits& limits = {}) {
  return load_document("project/van.toml", overrides, reader_of(std::move(files)), limits);
}

const Node& at(const Document& document, std::initializer_list<const char*> path) {
  const Node* node = &document.root;
  for (const char* key : path) {
    node = node->find(key);
    REQUIRE(node != nullptr);
  }
  return *node;
}

std::vector<std::string> keys(const Node& table) {
  REQUIRE(table.table() != nullptr);
  std::vector<std::string> all;
  for (const Entry& entry : *table.table()) all.push_back(entry.key);
  return all;
}

std::string described(const Node& node) {
  std::string text = std::string(node.kind_name()) + ": ";
  if (node.text() != nullptr) text += *node.text();
  if (const auto* whole = std::get_if<std::int64_t>(&node.value)) text += std::to_string(*whole);
  if (const auto* real = std::get_if<double>(&node.value)) text += number_text(*real);
  if (const auto* flag = std::get_if<bool>(&node.value)) text += *flag ? "true" : "false";
  if (const auto* date = std::get_if<Node::Date>(&node.value)) text += date->text;
  return text;
}

}  // namespace

// TOML 1.0.0 (toml.io/en/v1.0.0): the kinds of values, and that keys may be dotted, quoted and in
// any order.
TEST_CASE("a file becomes a tree in file order, with the place of every key and value",
          "[spec][document]") {
  const auto document = load(
      "z = 1\n"
      "a = -2.5\n"
      "[module.rack]\n"
      "  \"depth\" = \"22 1/16 in\"  # to the wall\n"
      "  on = true\n"
      "  place.rear = 0x1F\n"
      "  made = 2026-11-24\n"
      "  levels = [1,\n"
      "    'two']\n"
      "[[box]]\n"
      "size = 1\n"
      "[[box]]\n"
      "[module.galley]\n");
  REQUIRE(document.findings.empty());
  const Document& d = document.value;
  CHECK(keys(d.root) == std::vector<std::string>{"z", "a", "module", "box"});
  CHECK(keys(at(d, {"module"})) == std::vector<std::string>{"rack", "galley"});
  CHECK(keys(at(d, {"module", "rack"})) ==
        std::vector<std::string>{"depth", "on", "place", "made", "levels"});

  CHECK(std::get<std::int64_t>(at(d, {"z"}).value) == 1);
  CHECK(std::get<double>(at(d, {"a"}).value) == -2.5);
  CHECK(std::get<std::int64_t>(at(d, {"module", "rack", "place", "rear"}).value) == 31);
  CHECK(std::get<Node::Date>(at(d, {"module", "rack", "made"}).value).text == "2026-11-24");
  CHECK(at(d, {"box"}).array()->size() == 2);

  CHECK(at(d, {"z"}).place == Place{"t.toml", 1, 5, "1"});
  CHECK(at(d, {"module", "rack"}).place == Place{"t.toml", 3, 1, "[module.rack]"});
  CHECK(at(d, {"module", "rack", "depth"}).place == Place{"t.toml", 4, 13, "\"22 1/16 in\""});
  CHECK(at(d, {"module", "rack"}).table()->front().key_place == Place{"t.toml", 4, 3, "\"depth\""});
  CHECK(at(d, {"module", "rack", "place", "rear"}).place == Place{"t.toml", 6, 16, "0x1F"});
  const Node& levels = at(d, {"module", "rack", "levels"});
  CHECK(levels.place == Place{"t.toml", 8, 12, "[1,"});
  CHECK(levels.array()->at(1).place == Place{"t.toml", 9, 5, "'two'"});
  CHECK(*levels.array()->at(1).text() == "two");

  CHECK(levels.kind_name() == "a list");
  CHECK(d.inputs.size() == 1);
}

TEST_CASE("the including file wins, tables merge, lists and single values replace",
          "[spec][document]") {
  const auto document = load_files({
      {"project/van.toml",
       "include = [\"../stock/a.toml\", \"b.toml\"]\n[values]\nx = 1\n[sheet.birch]\nthickness = "
       "18\n"},
      {"stock/a.toml",
       "[values]\nx = 10\ny = 10\n[sheet.birch]\nthickness = 17\nlength = 2500\nsizes = [1, 2, "
       "3]\n"},
      {"project/b.toml", "[values]\nx = 20\ny = 20\nz = 20\n[sheet.birch]\nsizes = [4]\n"},
  });
  CAPTURE(words(document.findings));
  REQUIRE(document.findings.empty());
  const Document& d = document.value;
  CHECK(std::get<std::int64_t>(at(d, {"values", "x"}).value) == 1);
  CHECK(std::get<std::int64_t>(at(d, {"values", "y"}).value) == 20);  // the later include wins
  CHECK(std::get<std::int64_t>(at(d, {"values", "z"}).value) == 20);
  CHECK(std::get<std::int64_t>(at(d, {"sheet", "birch", "thickness"}).value) == 18);
  CHECK(std::get<std::int64_t>(at(d, {"sheet", "birch", "length"}).value) == 2500);
  CHECK(at(d, {"sheet", "birch", "sizes"}).array()->size() == 1);
  CHECK(d.root.find("include") == nullptr);

  const Node& x = at(d, {"values", "x"});
  CHECK(x.place.file == "project/van.toml");
  REQUIRE(x.earlier.size() == 2);  // newest first
  CHECK(x.earlier[0] == Place{"project/b.toml", 2, 5, "20"});
  CHECK(x.earlier[1] == Place{"stock/a.toml", 2, 5, "10"});
  REQUIRE(d.inputs.size() == 3);
  CHECK(d.inputs[0].path == "project/van.toml");
  CHECK(d.inputs[1].path == "stock/a.toml");
}

TEST_CASE("a file that two others include is read once", "[spec][document]") {
  const auto document = load_files({
      {"project/van.toml", "include = [\"a.toml\", \"b.toml\"]"},
      {"project/a.toml", "include = [\"base.toml\"]\na = 1"},
      {"project/b.toml", "include = [\"./base.toml\"]\nb = 1"},
      {"project/base.toml", "c = 1"},
  });
  REQUIRE(document.findings.empty());
  CHECK(document.value.inputs.size() == 4);
  CHECK(keys(document.value.root) == std::vector<std::string>{"c", "a", "b"});
  CHECK(at(document.value, {"c"}).earlier.empty());  // it does not replace itself
}

TEST_CASE("remove deletes what an included file brought in, at any depth", "[spec][document]") {
  const auto document = load_files({
      {"project/van.toml",
       "include = [\"a.toml\"]\nremove = [\"other\"]\n[values]\nremove = [\"x\"]\n"
       "[module.rack.holds]\nremove = [\"fridge\"]\n"},
      {"project/a.toml",
       "[values]\nx = 1\ny = 1\n[other]\nz = 1\n[module.rack.holds.fridge]\nbay = 1\n"
       "[module.rack.holds.tank]\nbay = 2\n"},
  });
  CAPTURE(words(document.findings));
  REQUIRE(document.findings.empty());
  CHECK(keys(document.value.root) == std::vector<std::string>{"values", "module"});
  CHECK(keys(at(document.value, {"values"})) == std::vector<std::string>{"y"});
  CHECK(keys(at(document.value, {"module", "rack", "holds"})) == std::vector<std::string>{"tank"});
}

TEST_CASE("removing what is not there is told with the nearest name", "[spec][document]") {
  const auto document = load_files({
      {"project/van.toml", "include = [\"a.toml\"]\n[values]\nremove = [\"linning\"]\n"},
      {"project/a.toml", "[values]\nlining = 1\n"},
  });
  REQUIRE(document.findings.size() == 1);
  CHECK(document.findings[0].place == Place{"project/van.toml", 3, 11, "\"linning\""});
  CHECK(advice_text(document.findings[0], LengthStyle::millimetres) == "write lining");
}

TEST_CASE("an include cycle is told with its path, and the rest is still read",
          "[spec][document]") {
  const auto document = load_files({
      {"project/van.toml", "include = [\"a.toml\"]\nx = 1"},
      {"project/a.toml", "y = 2\ninclude = [\"sub/b.toml\"]"},
      {"project/sub/b.toml", "z = 3\ninclude = [\n  \"../../project/a.toml\"]"},
  });
  REQUIRE(document.findings.size() == 1);
  const Finding& finding = document.findings[0];
  CHECK(finding.code == "input.include_cycle");
  CHECK(finding.place == Place{"project/sub/b.toml", 3, 3, "\"../../project/a.toml\""});
  CHECK_THAT(message_text(finding, LengthStyle::millimetres),
             Catch::Contains("project/a.toml -> project/sub/b.toml -> project/a.toml"));
  CHECK(keys(document.value.root) == std::vector<std::string>{"z", "y", "x"});
}

TEST_CASE("faults of included files are told with their own places", "[spec][document]") {
  const auto document = load_files({
      {"project/van.toml", "include = [\"a.toml\", \"gone.toml\", \"c.toml\"]\nx = 1"},
      {"project/a.toml", "y = \n"},
      {"project/c.toml", "format = 7\n"},
  });
  REQUIRE(codes(document.findings) ==
          std::vector<std::string>{"input.syntax", "input.no_file", "input.newer_format"});
  CHECK(document.findings[0].place->file == "project/a.toml");
  CHECK(document.findings[1].place == Place{"project/van.toml", 1, 22, "\"gone.toml\""});
  CHECK(document.findings[2].place->file == "project/c.toml");
}

TEST_CASE("the option --set wins over all files", "[spec][document][set]") {
  const Files files = {
      {"project/van.toml",
       "[module.galley]\ndepth = \"480 mm\"\nlevels = [1, 2]\nplace = { gap = 1, on = "
       "\"floor\" }\n[values]\nlining = 9\n"}};
  struct Row {
    const char* option;
    std::vector<const char*> path;
    std::string expected;
  };
  const std::vector<Row> rows = {
      {"module.galley.depth=520mm", {"module", "galley", "depth"}, "a text: 520mm"},
      {"module.galley.depth = 23 5/8 in", {"module", "galley", "depth"}, "a text: 23 5/8 in"},
      {"module.galley.depth=\"520 mm\"", {"module", "galley", "depth"}, "a text: 520 mm"},
      {"module.galley.depth=520", {"module", "galley", "depth"}, "a whole number: 520"},
      {"module.galley.depth=52.5", {"module", "galley", "depth"}, "a number: 52.5"},
      {"module.galley.on=true", {"module", "galley", "on"}, "true or false: true"},
      {"module.galley.made=2026-11-24", {"module", "galley", "made"}, "a date: 2026-11-24"},
      {"module.galley.place.gap=2", {"module", "galley", "place", "gap"}, "a whole number: 2"},
      {"module.rack.depth=a=b", {"module", "rack", "depth"}, "a text: a=b"},
      {"galley.depth=520mm", {"module", "galley", "depth"}, "a text: 520mm"},
      {"lining=8 mm", {"values", "lining"}, "a text: 8 mm"},
      {"extra.a.b=1", {"extra", "a", "b"}, "a whole number: 1"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.option);
    const auto document = load_files(files, {row.option});
    REQUIRE(document.findings.empty());
    const Node* node = &document.value.root;
    for (const char* key : row.path) {
      node = node->find(key);
      REQUIRE(node != nullptr);
    }
    CHECK(described(*node) == row.expected);
    CHECK(node->place.file == "--set");
  }
  const auto document =
      load_files(files, {"x.y=1", "galley.depth=520mm", "galley.place={ gap = 3 }"});
  const Node& depth = at(document.value, {"module", "galley", "depth"});
  CHECK(depth.place == Place{"--set", 2, 14, "520mm"});
  REQUIRE(depth.earlier.size() == 1);
  CHECK(depth.earlier[0] == Place{"project/van.toml", 2, 9, "\"480 mm\""});
  CHECK(*at(document.value, {"module", "galley", "place", "on"}).text() ==
        "floor");  // tables merge
}

TEST_CASE("a --set that cannot be is told", "[spec][document][set]") {
  const Files files = {{"project/van.toml", "[module.a]\nx = 1\nl = [1, 2]\n[values]\na = 2\n"}};
  struct Row {
    std::string option;
    const char* code;
  };
  const auto row = GENERATE(values<Row>({
      {"", "input.bad_set"},
      {"depth", "input.bad_set"},
      {"=3", "input.bad_set"},
      {"a..b=3", "input.bad_set"},
      {"a.b=", "input.bad_set"},
      {"a b=3", "input.bad_set"},
      {"module.a.x.y=3", "input.set_not_a_table"},
      {"module.a.l[3]=3", "input.set_no_entry"},
      {"module.a.x[1]=3", "input.set_no_entry"},
      {"module.a.m[1]=3", "input.set_no_entry"},
      {"module.a.l[0]=3", "input.bad_set"},
      {"module.a.l[x]=3", "input.bad_set"},
      {"module.a[1].x=3", "input.bad_set"},
      {"a=3", "input.set_ambiguous"},
      {"values.a=\xFF", "input.not_utf8"},
      {"values.a=" + std::string(5000, '1'), "input.bad_set"},
  }));
  CAPTURE(row.option.substr(0, 40));
  const auto document = load_files(files, {row.option});
  REQUIRE(codes(document.findings) == std::vector<std::string>{row.code});
  CHECK(document.findings[0].place->file == "--set");
}

TEST_CASE("a value set from outside changes one entry of a list and leaves the others", "[spec][document][set]") {
  const auto document = load_files(
      {{"project/van.toml", "[module.rack]\nlevels = [\"0 mm\", \"410 mm\", \"880 mm\"]\n"}},
      {"rack.levels[2]=430mm", "module.rack.levels[3]=900"});
  REQUIRE(document.findings.empty());
  const Node::Array& levels = *at(document.value, {"module", "rack", "levels"}).array();
  REQUIRE(levels.size() == 3);
  CHECK(*levels[0].text() == "0 mm");
  CHECK(levels[0].place.file == "project/van.toml");
  CHECK(*levels[1].text() == "430mm");
  CHECK(levels[1].place.file == "--set");
  CHECK(std::get<std::int64_t>(levels[2].value) == 900);
}

TEST_CASE("a value of --set cannot smuggle in other entries", "[spec][document][set]") {
  const auto document = load_files({{"project/van.toml", "x = 1"}}, {"x=1\ny = 2"});
  REQUIRE(document.findings.empty());
  CHECK(keys(document.value.root) == std::vector<std::string>{"x"});
}

TEST_CASE("a fault in a --set value points into the option", "[spec][document][set]") {
  const Findings faults = faults_of(load("[thing]\nwidth = 3", {"thing.width=2 * nobody"}));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].place->file == "--set");
  CHECK(faults[0].place->line == 1);
  CHECK(faults[0].place->column == 17);
}

TEST_CASE("the limits of the reader are kept", "[spec][document][hostile]") {
  const Files chain = {{"project/van.toml", "include = [\"a.toml\"]"},
                       {"project/a.toml", "include = [\"b.toml\"]"},
                       {"project/b.toml", "x = 1"}};
  CHECK(load_files(chain, {}, {.include_depth = 2}).findings.empty());
  CHECK(codes(load_files(chain, {}, {.include_depth = 1}).findings) ==
        std::vector<std::string>{"input.includes_too_deep"});
  CHECK(load_files(chain, {}, {.files = 3}).findings.empty());
  CHECK(codes(load_files(chain, {}, {.files = 2}).findings) ==
        std::vector<std::string>{"input.too_many_files"});

  const Files one = {{"project/van.toml", "x = [1, 2, 3]"}};  // root, list, three numbers
  CHECK(load_files(one, {}, {.nodes = 5}).findings.empty());
  CHECK(codes(load_files(one, {}, {.nodes = 4}).findings) ==
        std::vector<std::string>{"input.too_many_values"});
  CHECK(load_files(one, {}, {.file_bytes = 13}).findings.empty());
  CHECK(codes(load_files(one, {}, {.file_bytes = 12}).findings) ==
        std::vector<std::string>{"input.too_large"});
  CHECK(load_files({{"project/van.toml", "x = [[[1]]]"}}, {}, {.nesting = 4}).findings.empty());
  CHECK(codes(load_files({{"project/van.toml", "x = [[[1]]]"}}, {}, {.nesting = 3}).findings) ==
        std::vector<std::string>{"input.too_deep"});
}

TEST_CASE("files are read from disk, and what is no file is told", "[spec][document]") {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / "ribbay_document_tests";
  fs::create_directories(folder);
  const std::string file = (folder / "van.toml").string();
  std::ofstream(file, std::ios::binary) << "x = 1\n";

  CHECK(read_file(file) == "x = 1\n");
  const auto missing = read_file((folder / "vam.toml").string());
  REQUIRE_FALSE(missing);
  CHECK(missing.error()[0].code == "input.no_file");
  CHECK(advice_text(missing.error()[0], LengthStyle::millimetres) ==
        "name a file that is there: van.toml");
  CHECK(read_file(folder.string()).error()[0].code == "input.folder");
  CHECK(read_file("/dev/zero").error()[0].code == "input.not_readable");
  fs::remove_all(folder);
}

TEST_CASE("paths start at the folder of the file that names them", "[spec][document]") {
  CHECK(path_beside({"project/van.toml", 1, 1, ""}, "../stock/a.toml") == "stock/a.toml");
  CHECK(path_beside({"van.toml", 1, 1, ""}, "a.toml") == "a.toml");
  CHECK(path_beside({"project/van.toml", 1, 1, ""}, "/abs/a.toml") == "/abs/a.toml");
  CHECK(path_beside({"--set", 1, 1, ""}, "a.toml") == "a.toml");
}
