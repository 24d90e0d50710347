#include "files.hpp"

using namespace ribbay;

// Every limit that DEVELOPERS.md states for files and expressions, at its edge: what just fits is
// read, one more is told.

namespace {

std::string repeated(std::string_view part, std::size_t count) {
  std::string text;
  text.reserve(part.size() * count);
  for (std::size_t i = 0; i < count; ++i) text += part;
  return text;
}

std::vector<std::string> codes_of(Files files, const std::vector<std::string>& overrides = {}) {
  return codes(load_document("f0.toml", overrides, reader_of(std::move(files))).findings);
}

using Codes = std::vector<std::string>;

/// f0 includes f1, f1 includes f2, ...
Files chain_of_includes(int count) {
  Files files;
  for (int i = 0; i < count; ++i) {
    files['f' + std::to_string(i) + ".toml"] =
        "include = ['f" + std::to_string(i + 1) + ".toml']\n";
  }
  files['f' + std::to_string(count) + ".toml"] = "x = 1\n";
  return files;
}

/// f0 includes all others.
Files many_includes(int count) {
  Files files;
  std::string names;
  for (int i = 1; i <= count; ++i) {
    const std::string name = 'f' + std::to_string(i) + ".toml";
    files[name] = "x = 1\n";
    names += "'" + name + "', ";
  }
  files["f0.toml"] = "include = [" + names + "]\n";
  return files;
}

/// v0 needs v1, which needs v2, ...
std::string chain_of_values(int count) {
  std::string text = "[values]\n";
  for (int i = 0; i + 1 < count; ++i) {
    text += 'v' + std::to_string(i) + " = 'v" + std::to_string(i + 1) + "'\n";
  }
  return text + 'v' + std::to_string(count - 1) + " = 1\n";
}

}  // namespace

TEST_CASE("a file may have 8 MiB", "[spec][limits]") {
  const std::size_t most = 8U << 20U;
  const std::string start = "x = 1\n#";
  CHECK(codes_of({{"f0.toml", start + std::string(most - start.size(), ' ')}}) == Codes{});
  CHECK(codes_of({{"f0.toml", start + std::string(most - start.size() + 1, ' ')}}) ==
        Codes{"input.too_large"});
}

TEST_CASE("a project may have 200 files, 20 of them inside each other", "[spec][limits]") {
  CHECK(codes_of(many_includes(199)) == Codes{});
  CHECK(codes_of(many_includes(200)) == Codes{"input.too_many_files"});
  CHECK(codes_of(chain_of_includes(20)) == Codes{});
  CHECK(codes_of(chain_of_includes(21)) == Codes{"input.includes_too_deep"});
}

TEST_CASE("a project may have 200 000 values", "[spec][limits]") {
  // The root, the list and its numbers.
  CHECK(codes_of({{"f0.toml", "x = [" + repeated("1,", 199'998) + "]"}}) == Codes{});
  CHECK(codes_of({{"f0.toml", "x = [" + repeated("1,", 199'999) + "]"}}) ==
        Codes{"input.too_many_values"});
  // Together, too.
  const Files halves = {{"f0.toml", "include = ['f1.toml']\nx = [" + repeated("1,", 100'000) + "]"},
                        {"f1.toml", "y = [" + repeated("1,", 100'000) + "]"}};
  CHECK(codes_of(halves) == Codes{"input.too_many_values"});
}

TEST_CASE("tables, lists and keys stand at most 40 inside each other", "[spec][limits]") {
  const auto lists = [](std::size_t count) {
    return "x = " + repeated("[", count) + "1" + repeated("]", count);
  };
  CHECK(codes_of({{"f0.toml", lists(39)}}) == Codes{});
  CHECK(codes_of({{"f0.toml", lists(40)}}) == Codes{"input.too_deep"});
  const auto keys = [](std::size_t count) { return repeated("a.", count - 1) + "a = 1"; };
  CHECK(codes_of({{"f0.toml", keys(40)}}) == Codes{});
  CHECK(codes_of({{"f0.toml", keys(41)}}) == Codes{"input.too_deep"});
  CHECK(codes_of({{"f0.toml", keys(100'000)}}) == Codes{"input.too_deep"});
}

TEST_CASE("a text and a name may have 4096 bytes", "[spec][limits]") {
  CHECK(codes_of({{"f0.toml", "x = '" + std::string(4096, 'a') + "'"}}) == Codes{});
  CHECK(codes_of({{"f0.toml", "x = '" + std::string(4097, 'a') + "'"}}) ==
        Codes{"input.text_too_long"});
  CHECK(codes_of({{"f0.toml", std::string(4096, 'a') + " = 1"}}) == Codes{});
  CHECK(codes_of({{"f0.toml", std::string(4097, 'a') + " = 1"}}) == Codes{"input.text_too_long"});
}

TEST_CASE("an option --set may have 4096 bytes and a path of 40 names", "[spec][limits]") {
  const Files file = {{"f0.toml", "x = 1\n"}};
  CHECK(codes_of(file, {"y=" + std::string(4094, '1') + "\n"}) == Codes{"input.bad_set"});
  CHECK(codes_of(file, {"y='" + std::string(4092, 'a') + "'"}) == Codes{});
  CHECK(codes_of(file, {"y='" + std::string(4093, 'a') + "'"}) == Codes{"input.bad_set"});
  CHECK(codes_of(file, {repeated("a.", 39) + "a=1"}) == Codes{});
  CHECK(codes_of(file, {repeated("a.", 40) + "a=1"}) == Codes{"input.bad_set"});
}

TEST_CASE("parentheses and values stand at most 250 inside each other", "[spec][limits]") {
  const auto parentheses = [](std::size_t count) {
    return "[values]\nx = '" + repeated("(", count) + "1" + repeated(")", count) + "'";
  };
  CHECK(codes(faults_of(load(parentheses(249)))) == Codes{});
  CHECK(codes(faults_of(load(parentheses(250)))) == Codes{"expression.too_deep"});
  CHECK(codes(faults_of(load(chain_of_values(251)))) == Codes{});
  CHECK(codes(faults_of(load(chain_of_values(252)))) == Codes{"expression.too_deep"});
  CHECK(codes(faults_of(load(chain_of_values(50'000)))).size() <= Evaluator::kMostFindings);
}

TEST_CASE("min and max take at most 1000 values", "[spec][limits]") {
  const auto smallest = [](std::size_t count) {
    return "[values]\nx = 'min(1" + repeated(",1", count - 1) + ")'";
  };
  CHECK(codes(faults_of(load(smallest(1000)))) == Codes{});
  CHECK(codes(faults_of(load(smallest(1001)))) == Codes{"expression.wrong_argument_count"});
}

TEST_CASE("at most 500 faults of values are told", "[spec][limits]") {
  const auto faulty = [](int count) {
    std::string text = "[values]\n";
    for (int i = 0; i < count; ++i) text += 'v' + std::to_string(i) + " = '1 +'\n";
    return faults_of(load(text));
  };
  CHECK(faulty(499).size() == 499);
  CHECK(faulty(499).back().code == "expression.incomplete");
  CHECK(faulty(501).size() == 500);
  CHECK(faulty(501).back().code == "input.more_errors");
}
