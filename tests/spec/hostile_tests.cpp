#include "files.hpp"

#include <ctime>
#include <random>
#include <sstream>

using namespace ribbay;

namespace {

const std::string& good_file() {
  static const std::string text = R"toml(format = 1
[values]
lining = "9 mm"   # remark
spacer = "if(lining > 8 mm and not lining == 10 mm, 62 mm, 3 ft 2 1/2 in)"
unicode = "90° / 2"
[thing]
width = "min(vehicle.width - 2*lining, 22 1/16 in)"
load = "27 lb"
doors = 2
made = 2026-11-24
side = "left"
profile = "slotted_40"
levels = ["0 mm", "410 mm", 880]
bays = ["1 share", "500 mm", "1 1/2 shares"]
place = { gap = "clear_width(45 mm, 605 mm) / 4", on = "floor" }
[thing.columns.first]
width = """420 mm +
  spacer"""
[[thing.boxes]]
size = 'lining * 2'
)toml";
  return text;
}

/// Processor time, since other programs run beside a test.
double seconds_for(const std::string& text, Findings* faults) {
  const std::clock_t start = std::clock();
  *faults = faults_of(load(text));
  return static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
}

std::string repeated(std::string_view part, std::size_t count) {
  std::string text;
  text.reserve(part.size() * count);
  for (std::size_t i = 0; i < count; ++i) text += part;
  return text;
}

}  // namespace

TEST_CASE("the file that the mutations start from is good", "[spec][hostile]") {
  const Findings faults = faults_of(load(good_file()));
  CAPTURE(words(faults));
  CHECK(faults.empty());
}

TEST_CASE("thousands of mutated files end in findings, never in a crash or a hang",
          "[spec][hostile]") {
  const unsigned seed = 20261124;
  std::mt19937 random(seed);
  const auto pick = [&](std::size_t below) { return static_cast<std::size_t>(random() % below); };
  const std::vector<std::string> pieces = {
      "\"",     "'",    "\"\"\"", "[",   "]",      "{",   "}",     "=",   ".",
      ",",      "\n",   "#",      "\\",  "(",      ")",   "1e999", "-",   "if(",
      "self.",  "\xFF", "\xC3",   "\0x", "lining", "1/0", "nan",   "inf", "99999999999999999999",
      "\\u0000"};
  std::size_t faulty = 0;
  const std::clock_t start = std::clock();
  constexpr int kFiles = 5000;
  for (int i = 0; i < kFiles; ++i) {
    std::string text = good_file();
    for (std::size_t changes = 1 + pick(6); changes > 0 && !text.empty(); --changes) {
      const std::size_t at = pick(text.size());
      switch (pick(5)) {
        case 0:
          text[at] = static_cast<char>(pick(256));
          break;
        case 1:
          text.erase(at, 1 + pick(10));
          break;
        case 2:
          text.insert(at, pieces[pick(pieces.size())]);
          break;
        case 3:
          text.insert(at, text.substr(pick(text.size()), pick(40)));
          break;
        default:
          text.resize(at);
          break;
      }
    }
    CAPTURE(seed, i, text);
    const Findings faults = faults_of(load(text));
    faulty += faults.empty() ? 0 : 1;
    for (const Finding& fault : faults) {
      // Each one can be printed and stands in the file.
      REQUIRE_FALSE(finding_text(fault, LengthStyle::inches).empty());
      REQUIRE(fault.place);
      REQUIRE(fault.place->line >= 0);
      REQUIRE(fault.place->line <= std::count(text.begin(), text.end(), '\n') + 1);
    }
  }
  CHECK(faulty > kFiles / 2);
  CHECK(static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC < 60.0);
}

TEST_CASE("random bytes are no parameter file", "[spec][hostile]") {
  std::mt19937 random(7);
  for (int i = 0; i < 2000; ++i) {
    std::string text(random() % 200, '\0');
    for (char& c : text) c = static_cast<char>(random() % 256);
    (void)faults_of(load(text));
  }
  SUCCEED();
}

// The bar of the design: no crash, no hang over 1 s. Sanitizers and a busy machine are slower, so
// the test allows five; the figures are printed when it fails.
TEST_CASE("large hostile files are refused quickly", "[spec][hostile]") {
  struct Row {
    const char* name;
    std::string text;
  };
  const std::size_t mega = 1U << 20U;
  std::vector<Row> rows;
  rows.push_back({"dots in a key", repeated("a.", mega) + "a = 1"});
  rows.push_back({"dots in a header", "[" + repeated("a.", mega) + "a]"});
  rows.push_back({"quoted dots", repeated("\"a\".", mega) + "a = 1"});
  rows.push_back({"dots in an inline table", "x = { " + repeated("a . ", mega) + "a = 1 }"});
  rows.push_back({"open brackets", "x = " + repeated("[", mega)});
  rows.push_back({"open braces", "x = " + repeated("{a=", mega)});
  rows.push_back({"numbers in a list", "x = [" + repeated("1,", 2 * mega) + "]"});
  rows.push_back({"lists in a list", "x = [" + repeated("[],", mega) + "]"});
  rows.push_back({"tables", repeated("[[x]]\n", mega)});
  rows.push_back({"one long text", "x = \"" + repeated("a", 7 * mega) + "\""});
  rows.push_back({"an open text", "x = \"\"\"" + repeated("a\n", 3 * mega)});
  rows.push_back({"escapes", "x = \"" + repeated("\\\\", 3 * mega)});
  rows.push_back({"remarks", repeated("#\n", 3 * mega)});
  rows.push_back({"blank", repeated("\n", 7 * mega)});
  rows.push_back({"more than a file may have", repeated("#", 9 * mega)});
  rows.push_back({"wide characters", "x = 1 # " + repeated("\xC3\xA9", 3 * mega)});
  std::stringstream keys;
  for (int i = 0; i < 180000; ++i) keys << "k" << i << "=1\n";
  rows.push_back({"unknown fields", "[thing]\n" + keys.str()});
  rows.push_back({"values", "[values]\n" + keys.str()});
  std::stringstream line;
  for (int i = 0; i < 60000; ++i) line << "{size=\"\xC3\xA9\"},";
  rows.push_back({"one line of many values", "thing.boxes = [" + line.str() + "]"});
  for (const Row& row : rows) {
    Findings faults;
    const double seconds = seconds_for(row.text, &faults);
    CAPTURE(row.name, seconds);
    if (std::string(row.name) != "values") CHECK_FALSE(faults.empty());
    CHECK(faults.size() <= Evaluator::kMostFindings);
    CHECK(seconds < 5.0);
  }
}

TEST_CASE("includes that multiply are stopped", "[spec][hostile]") {
  Files files;
  for (int i = 0; i < 30; ++i) {
    const std::string next = "\"f" + std::to_string(i + 1) + ".toml\"";
    files["f" + std::to_string(i) + ".toml"] =
        "include = [" + next + ", " + next + ", " + next + "]\n";
  }
  files["f30.toml"] = "x = 1";
  const auto document = load_document("f0.toml", {}, reader_of(files));
  CHECK_FALSE(document.findings.empty());
  CHECK(document.findings.size() < 100);
}
