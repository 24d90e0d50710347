#include "fault_table.hpp"
#include "files.hpp"
#include "temporary_folder.hpp"
#include "unit_fault_table.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

using namespace ribbay;

namespace {

std::string faulty_values(int count) {
  std::stringstream text;
  text << "[values]\n";
  for (int i = 0; i < count; ++i) text << "v" << i << " = \"nobody + 1\"\n";
  return text.str();
}

}  // namespace

TEST_CASE("each fault is told once, at its line and column, with the words of its code",
          "[spec][faults]") {
  for (const FaultRow& row : fault_rows()) {
    const Findings faults = faults_of(load(row.text));
    CAPTURE(row.text.substr(0, 200), words(faults));
    REQUIRE(faults.size() == 1);
    const Finding& fault = faults.front();
    CHECK(fault.code == row.code);
    REQUIRE(fault.place);
    CHECK(fault.place->file == "t.toml");
    CHECK(fault.place->line == row.line);
    CHECK(fault.place->column == row.column);
    const std::string message = message_text(fault, LengthStyle::millimetres);
    CHECK_THAT(message, Catch::Contains(row.says));
    CHECK_FALSE(message.ends_with('?'));  // an argument that is not there
  }
}

TEST_CASE("a file that follows the advice has no faults", "[spec][faults]") {
  std::size_t mended = 0;
  for (const FaultRow& row : fault_rows()) {
    if (row.mended.empty()) continue;
    ++mended;
    const Findings faults = faults_of(load(row.mended));
    CAPTURE(row.code, row.mended, words(faults));
    CHECK(faults.empty());
  }
  CHECK(mended > 30);
}

TEST_CASE("advice names the nearest right word", "[spec][faults]") {
  struct Row {
    std::string text;
    std::string advice;
  };
  const auto row = GENERATE(values<Row>({
      {"[thing]\nwidht = 3", "write width"},
      {"[thing]\nside = \"Left\"", "write left"},
      {"[thing]\nside = \"oblique\"", "write one of these"},
      {"[thing]\nprofile = \"plank\"", "write one of these"},
      {"[thing]\nprofile = \"slotted-40\"", "write slotted_40"},
      {"[values]\na = \"vehicle.widht\"", "write vehicle.width"},
      {"[values]\nlining = 1\na = \"lning\"", "write lining"},
      {"[values]\na = \"clear_wdith(1 mm)\"", "write clear_width"},
      {"[values]\na = \"mx(1, 2)\"", "write max"},
      {"[values]\na = \"3 inhces\"", "write inches"},
      {"[values]\n\"Left Door\" = 1", "write left_door"},
      {"[valeus]\na = 1", "write values"},
      {"[thing]\nwidth = \"self.depht\"", "write self.depth"},
      {"[values]\na = \"9 mm + 3\"", "write 3 mm, or"},
      {"[values]\nn = 2\na = \"9 mm + n\"", "write n * 1 mm, or"},
      {"[values]\na = \"9 mm + (2 + 1)\"", "* 1 mm, or"},
      {"[values]\na = \"floor(2 * 9 mm)\"", "write floor(2 * 9 mm, 1 mm)"},
      {"[values]\na = \"1 + 12,5\"", "write 12.5"},
  }));
  const Findings faults = faults_of(load(row.text));
  CAPTURE(row.text, words(faults));
  REQUIRE(faults.size() == 1);
  CHECK_THAT(advice_text(faults[0], LengthStyle::millimetres), Catch::Contains(row.advice));
}

TEST_CASE("a wrong value is answered with one that would do", "[spec][faults]") {
  struct Row {
    std::string text;
    std::string message;
    std::string advice;
  };
  const auto row = GENERATE(values<Row>({
      {"[thing]\nwidth = \"12 kg\"", "thing.width must be of kind length, and this is of kind mass",
       "give it values of kind length, with their units, such as \"40 mm\""},
      {"[thing]\ndoors = \"3 mm\"",
       "thing.doors must be of kind plain number, and this is of kind length",
       "give it values of kind plain number, with their units, such as 2"},
      {"[thing]\nload = true",
       "thing.load is true or false, and should be: mass in kg, at least 0 kg",
       "write for example \"40 kg\""},
      {"[thing]\nside = 3",
       "thing.side is a whole number, and should be: one of left, right, rear, default left",
       "write for example \"left\""},
      {"[thing]\nmirrored = \"no\"",
       "thing.mirrored is a text, and should be: true or false, default false",
       "write for example false"},
      {"[thing]\nmade = 3",
       "thing.made is a whole number, and should be: date such as 2026-11-24, "
       "without quotes",
       "write for example 2026-11-24"},
      {"[thing]\nat = 3", "thing.at is a whole number, and should be: list: length in mm, 3 items",
       "write for example [\"40 mm\", \"40 mm\", \"40 mm\"]"},
      {"[thing]\nfaces = { a = 1 }",
       "thing.faces is a table, and should be: list: each one of oak, birch",
       "write for example [\"oak\"]"},
      {"[thing]\nplace = 3", "thing.place is a whole number, and should be: table",
       "write for example { gap = ... }"},
      {"[thing]\ncolumns = 3",
       "thing.columns is a whole number, and should be: table of named tables",
       "write for example { name = { width = ... } }"},
      {"[thing]\nboxes = 3", "thing.boxes is a whole number, and should be: list of tables",
       "write for example [{ size = ... }]"},
      {"[thing]\ncolumns.a = { width = 3, when = 3 }",
       "thing.columns.a.when is a whole number, and should be: true, false or a condition",
       "write for example true"},
      {"[values]\na = [1]",
       "values.a is a list, and should be: a number, with unit where it has one",
       "write for example \"40 mm\""},
      {"options = 3", "options is a whole number, and should be: table",
       "write for example [options]"},
      {"[thing]\nwidth = \"4 m\"", "thing.width is 4000 mm and must be at most 3000 mm",
       "write 3000 mm or less"},
  }));
  const Findings faults = faults_of(load(row.text));
  CAPTURE(row.text, words(faults));
  REQUIRE(faults.size() == 1);
  CHECK(message_text(faults[0], LengthStyle::millimetres) == row.message);
  CHECK(advice_text(faults[0], LengthStyle::millimetres) == row.advice);
}

TEST_CASE("a misspelt table in --set is answered with the nearest name", "[spec][faults]") {
  const Findings faults =
      faults_of(load("[thing.columns.left]\nwidth = 3\n", {"colums.left.width=4"}));
  CAPTURE(words(faults));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].place->file == "--set");
  CHECK(message_text(faults[0], LengthStyle::millimetres) ==
        "--set colums: nothing in these files is called colums");
  CHECK(advice_text(faults[0], LengthStyle::millimetres) == "write columns");
}

TEST_CASE("a setting replaces what is there, and makes nothing new", "[spec][faults]") {
  const std::string text =
      "[values]\nlining = 3\n[options]\nwinter = true\n[thing.columns.left]\nwidth = 3\n";
  struct Row {
    std::string setting;
    std::string subject;  ///< empty: it is no fault
    std::string advice;
  };
  const auto row = GENERATE(values<Row>({
      {"values.linig=3mm", "values.linig", "write lining"},
      {"options.wintre=false", "options.wintre", "write winter"},
      {"options.summer=false", "options.summer", ""},
      {"columns.lfet.width=4", "thing.columns.lfet", "write left"},
      {"lining=4", "", ""},
      {"winter=false", "", ""},
      {"columns.left.width=4", "", ""},
      {"thing.place.on=floor", "", ""},
      {"thing.columns={right={width=4}}", "", ""},
  }));
  const Findings faults = faults_of(load(text, {row.setting}));
  CAPTURE(row.setting, words(faults));
  REQUIRE(faults.size() == (row.subject.empty() ? 0 : 1));
  if (row.subject.empty()) return;
  CHECK(faults[0].code == "input.set_unknown");
  CHECK(faults[0].subjects.front() == row.subject);
  CHECK(faults[0].place->file == "--set");
  CHECK(advice_text(faults[0], LengthStyle::millimetres) == row.advice);
}

TEST_CASE("a setting that is no list is pointed at where it goes wrong", "[spec][faults]") {
  const Findings faults = faults_of(load("[thing]\nwidth = 3\n", {"thing.levels=[0"}));
  CAPTURE(words(faults));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].code == "input.syntax");
  CHECK(faults[0].place->line == 1);
  CHECK(faults[0].place->column == 16);  // behind the 0
}

TEST_CASE("an entry that is written and was rejected is no unknown name", "[spec][faults]") {
  const Document document = load("[profile.bent]\nwidth = 3\n[thing]\nprofile = \"bent\"\n").value;
  Evaluator evaluator(document, thing_resolvers());
  evaluator.declare("thing", thing_schema(), "thing");
  CHECK_FALSE(evaluator.record("thing"));  // thing_resolvers() do not know it
  CHECK(evaluator.findings().empty());
}

TEST_CASE("a misspelt table hides what it should hold, and nothing else", "[spec][faults]") {
  const Document document = load("[plaec]\non = \"floor\"\n[thing]\nwidth = \"nobody\"").value;
  Evaluator evaluator(document, thing_resolvers());
  evaluator.declare("place", thing_schema()->find("place")->inner, "place");
  evaluator.declare("thing", thing_schema(), "thing");
  evaluator.check_top_level({"place", "thing"});
  (void)evaluator.record("place");
  (void)evaluator.record("thing");
  CHECK(codes(evaluator.findings()) ==
        std::vector<std::string>{"input.unknown_table", "expression.unknown_name"});
}

TEST_CASE("a file that is not there is answered with those of its kind", "[spec][faults]") {
  const TemporaryFolder folder;
  for (const char* name : {"van.toml", "notes.txt", "room.ply"}) {
    std::ofstream(folder.path() / name) << "x";
  }
  std::filesystem::create_directory(folder.path() / "old.toml");
  const auto mend = [&](const char* name) {
    const auto read = read_file((folder.path() / name).string());
    REQUIRE_FALSE(read);
    return advice_text(read.error().front(), LengthStyle::millimetres);
  };
  CHECK(mend("project.toml") == "name a file that is there: van.toml");
  CHECK(mend("scan.ply") == "name a file that is there: room.ply");
  CHECK(mend("scan.glb") == "name a file that is there: room.ply");
}

TEST_CASE("every fault of a file comes with a way to mend it", "[spec][faults]") {
  std::size_t seen = 0;
  for (const Message& message : english_messages()) {
    if (!message.code.starts_with("input.") && !message.code.starts_with("expression.")) continue;
    ++seen;
    CAPTURE(message.code);
    CHECK_FALSE(message.advice.empty());
  }
  CHECK(seen > 70);
}

TEST_CASE("every mistake of a file is told in one go", "[spec][faults]") {
  const Findings faults = faults_of(load(R"(
[thing]
width = "12 kg"
depth = "3 foo"
doors = 2.5
side = "up"
colour = 3
levels = ["1 mm", "2 kg", "3 mm +"]
[thing.columns.A]
width = -3
[values]
a = "b + c"
)"));
  CAPTURE(words(faults));
  std::vector<std::string> found = codes(faults);
  std::ranges::sort(found);
  CHECK(found == std::vector<std::string>{"expression.dimension", "expression.dimension",
                                          "expression.incomplete", "expression.unknown_name",
                                          "expression.unknown_name", "expression.unknown_unit",
                                          "input.bad_name", "input.not_a_choice", "input.not_above",
                                          "input.not_whole", "input.unknown_key"});
}

TEST_CASE("a file with endless faults gets a short answer", "[spec][faults]") {
  const Findings faults = faults_of(load(faulty_values(3000)));
  CHECK(faults.size() == Evaluator::kMostFindings);
  CHECK(faults.back().code == "input.more_errors");
}

namespace {

Findings fault_of_reading(const std::string& path) {
  return load_document(path).findings;
}

/// What a resolver computes by itself, and needs for itself.
Findings faults_of_places() {
  const Document document = load("format = 1").value;
  Evaluator evaluator(document, {});
  const auto place = [&](const auto& itself) -> Lookup {
    return evaluator.remember("its place", {}, [&] { return itself(itself); });
  };
  (void)place(place);
  return evaluator.take_findings();
}

/// Codes that need files or options rather than a single text.
std::set<std::string> other_codes() {
  std::set<std::string> found;
  const auto add = [&](const Findings& findings) {
    REQUIRE_FALSE(findings.empty());
    for (const Finding& finding : findings) found.insert(finding.code);
  };
  const auto load_with = [](Files files, std::vector<std::string> overrides = {},
                            InputLimits limits = {}) {
    return load_document("a.toml", overrides, reader_of(std::move(files)), limits).findings;
  };
  add(fault_of_reading("no/such/file.toml"));
  add(fault_of_reading("/"));
  add(fault_of_reading("/dev/zero"));
  add(load_with({{"a.toml", "include = [\"b.toml\"]"}, {"b.toml", "include = [\"a.toml\"]"}}));
  add(load_with({{"a.toml", "include = [\"b.toml\"]"}, {"b.toml", "x = 1"}}, {},
                {.include_depth = 0}));
  add(load_with({{"a.toml", "include = [\"b.toml\"]"}, {"b.toml", "x = 1"}}, {}, {.files = 1}));
  add(load_with({{"a.toml", "x = [1, 2, 3, 4]"}}, {}, {.nodes = 4}));
  add(load_with({{"a.toml", "x = [1, 2, 3, 4]"}}, {}, {.file_bytes = 4}));
  add(load_with({{"a.toml", "x = 1"}}, {"no sign"}));
  add(load_with({{"a.toml", "x = 1"}}, {"x.y = 2"}));
  add(load_with({{"a.toml", "x = [1]"}}, {"x[2] = 2"}));
  add(load_with({{"a.toml", "[x]\nz = 1\n[y]\nz = 2"}}, {"z = 2"}));
  add(load_with({{"a.toml", "[x.y]\nbased_on = \"z\""}}));
  add(load_with({{"a.toml", "[x.y]\nbased_on = \"y\""}}));
  add(load_with({{"a.toml", "[x.y]\nbased_on = 3"}}));
  add(faults_of(load("[thing]\nwidth = 3", {"thign.width=4"})));
  add(faults_of(load("[values]\na = 3", {"values.b=4"})));
  add(faults_of(load(faulty_values(600))));
  add(faults_of_places());
  return found;
}

}  // namespace

TEST_CASE("every code that the reader can emit is provoked, and has its words", "[spec][faults]") {
  std::set<std::string> provoked = other_codes();
  for (const FaultRow& row : fault_rows()) provoked.insert(row.code);
  for (const UnitFaultRow& row : unit_fault_rows()) provoked.insert(row.code);

  std::set<std::string> written;
  const std::filesystem::path folder =
      std::filesystem::path(RIBBAY_SOURCE_DIR) / "modeler/spec/src";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    std::ifstream file(entry.path());
    std::stringstream text;
    text << file.rdbuf();
    const std::string source = text.str();
    for (const std::string_view start : {"\"input.", "\"expression."}) {
      for (auto at = source.find(start); at != std::string::npos; at = source.find(start, at + 1)) {
        const std::string name = source.substr(at + 1, source.find('"', at + 1) - at - 1);
        if (!name.ends_with(".hpp")) written.insert(name);
      }
    }
  }
  REQUIRE(written.size() > 60);
  CHECK(provoked == written);
  for (const std::string& name : written) {
    const auto& table = english_messages();
    CAPTURE(name);
    CHECK(std::ranges::find(table, name, &Message::code) != table.end());
  }
}
