#include "files.hpp"

#include <cmath>
#include <limits>

using namespace ribbay;

// TOML v1.0.0 (https://toml.io/en/v1.0.0), section by section: the examples that its text gives,
// shortened to what a reader can get wrong, each as valid or not valid as the text says. One rule
// of ours is stricter: an empty file is an error (input.empty).

namespace {

struct Row {
  const char* section;
  std::string text;
};

/// The value at a dotted path as short text: "s:..." text, "i:..." whole number, "n:..." number,
/// "b:..." true or false, "d:..." date or time, "[3]" list of three, "{a,b}" table with its keys.
std::string value_at(const Node& root, std::vector<std::string> path) {
  const Node* node = &root;
  for (const std::string& key : path) {
    const Node::Array* items = node->array();
    node = items != nullptr ? &items->at(std::stoul(key)) : node->find(key);
    if (node == nullptr) return "nothing";
  }
  if (const auto* text = node->text()) return "s:" + *text;
  if (const auto* whole = std::get_if<std::int64_t>(&node->value))
    return "i:" + std::to_string(*whole);
  if (const auto* real = std::get_if<double>(&node->value)) return "n:" + number_text(*real);
  if (const auto* flag = std::get_if<bool>(&node->value)) return *flag ? "b:true" : "b:false";
  if (const auto* date = std::get_if<Node::Date>(&node->value)) return "d:" + date->text;
  if (const auto* items = node->array()) return "[" + std::to_string(items->size()) + "]";
  std::vector<std::string> keys;
  for (const Entry& entry : *node->table()) keys.push_back(entry.key);
  return "{" + join(keys, ",") + "}";
}

struct ValidRow {
  const char* section;
  std::string text;
  std::vector<std::string> path;
  std::string value;
};

const std::vector<ValidRow>& valid_rows() {
  static const std::vector<ValidRow> rows = {
      {"Comment",
       "# full line\nkey = \"value\"  # at the end\nanother = \"# not a comment\"\n",
       {},
       "{key,another}"},
      {"Comment", "another = \"# not a comment\"", {"another"}, "s:# not a comment"},
      {"Keys", "bare_key = 1\nbare-key = 2\n1234 = \"value\"", {"1234"}, "s:value"},
      {"Keys",
       "\"127.0.0.1\" = 1\n\"character encoding\" = 2\n\"\xCA\x8E\xC7\x9D\xCA\x9E\" = 3",
       {},
       "{127.0.0.1,character encoding,\xCA\x8E\xC7\x9D\xCA\x9E}"},
      {"Keys", "'quoted \"value\"' = \"value\"", {"quoted \"value\""}, "s:value"},
      {"Keys", "\"\" = \"blank\"", {""}, "s:blank"},
      {"Keys",
       "name = \"Orange\"\nphysical.color = \"orange\"\nphysical.shape = \"round\"\n"
       "site.\"google.com\" = true",
       {"physical"},
       "{color,shape}"},
      {"Keys", "site.\"google.com\" = true", {"site", "google.com"}, "b:true"},
      {"Keys",
       "fruit.name = 1\nfruit. color = 2\nfruit . flavor = 3",
       {"fruit"},
       "{name,color,flavor}"},
      {"Keys", "fruit.apple.smooth = true\nfruit.orange = 2", {"fruit", "orange"}, "i:2"},
      {"Keys",
       "apple.type = 1\norange.type = 2\napple.skin = 3\norange.skin = 4",
       {"apple"},
       "{type,skin}"},
      {"Keys", "3.14159 = \"pi\"", {"3", "14159"}, "s:pi"},
      {"String",
       "str = \"I'm a string. \\\"You can quote me\\\". Name\\tJos\\u00E9\\nLocation\\tSF.\"",
       {"str"},
       "s:I'm a string. \"You can quote me\". Name\tJos\xC3\xA9\nLocation\tSF."},
      {"String",
       "str = \"\\b\\t\\n\\f\\r\\\"\\\\\\u00e9\\U0001F600\"",
       {"str"},
       "s:\b\t\n\f\r\"\\\xC3\xA9\xF0\x9F\x98\x80"},
      {"String",
       "str1 = \"\"\"\nRoses are red\nViolets are blue\"\"\"",
       {"str1"},
       "s:Roses are red\nViolets are blue"},
      {"String",
       "str2 = \"\"\"\nThe quick brown \\\n\n\n  fox jumps over \\\n    the lazy dog.\"\"\"",
       {"str2"},
       "s:The quick brown fox jumps over the lazy dog."},
      {"String",
       "str3 = \"\"\"\\\n       The quick brown \\\n       fox.\\\n       \"\"\"",
       {"str3"},
       "s:The quick brown fox."},
      {"String",
       "str4 = \"\"\"Here are two quotation marks: \"\". Simple enough.\"\"\"",
       {"str4"},
       "s:Here are two quotation marks: \"\". Simple enough."},
      {"String", "str5 = \"\"\"three: \"\"\\\".\"\"\"", {"str5"}, "s:three: \"\"\"."},
      {"String", "str7 = \"\"\"\"This,\" she said.\"\"\"\"", {"str7"}, "s:\"This,\" she said.\""},
      {"String", "winpath = 'C:\\Users\\nodejs'", {"winpath"}, "s:C:\\Users\\nodejs"},
      {"String",
       "regex2 = '''I [dw]on't need \\d{2} apples'''",
       {"regex2"},
       "s:I [dw]on't need \\d{2} apples"},
      {"String",
       "lines = '''\nThe first newline is\ntrimmed.\n'''",
       {"lines"},
       "s:The first newline is\ntrimmed.\n"},
      {"String",
       "quot15 = '''\"\"\"\"\"\"\"\"\"\"\"\"\"\"\"'''",
       {"quot15"},
       "s:\"\"\"\"\"\"\"\"\"\"\"\"\"\"\""},
      {"String",
       "str = ''''That,' she said, 'is still pointless.''''",
       {"str"},
       "s:'That,' she said, 'is still pointless.'"},
      {"Integer", "int1 = +99", {"int1"}, "i:99"},
      {"Integer", "int4 = -17", {"int4"}, "i:-17"},
      {"Integer", "int = -0", {"int"}, "i:0"},
      {"Integer", "int7 = 53_49_221", {"int7"}, "i:5349221"},
      {"Integer", "int8 = 1_2_3_4_5", {"int8"}, "i:12345"},
      {"Integer", "hex1 = 0xDEADBEEF", {"hex1"}, "i:3735928559"},
      {"Integer", "hex3 = 0xdead_beef", {"hex3"}, "i:3735928559"},
      {"Integer", "oct2 = 0o755", {"oct2"}, "i:493"},
      {"Integer", "bin1 = 0b11010110", {"bin1"}, "i:214"},
      {"Integer", "big = 9223372036854775807", {"big"}, "i:9223372036854775807"},
      {"Integer", "small = -9223372036854775808", {"small"}, "i:-9223372036854775808"},
      {"Float", "flt1 = +1.0", {"flt1"}, "n:1"},
      {"Float", "flt3 = -0.01", {"flt3"}, "n:-0.01"},
      {"Float", "flt4 = 5e+22", {"flt4"}, "n:5e+22"},
      {"Float", "flt5 = 1e06", {"flt5"}, "n:1e+06"},
      {"Float", "flt6 = -2E-2", {"flt6"}, "n:-0.02"},
      {"Float", "flt7 = 6.626e-34", {"flt7"}, "n:6.626e-34"},
      {"Float", "flt8 = 224_617.445_991_228", {"flt8"}, "n:224617.445991228"},
      {"Float", "sf2 = +inf", {"sf2"}, "n:inf"},
      {"Float", "sf3 = -inf", {"sf3"}, "n:-inf"},
      {"Float", "sf5 = +nan", {"sf5"}, "n:nan"},
      {"Boolean", "bool1 = true\nbool2 = false", {"bool2"}, "b:false"},
      {"Offset Date-Time", "odt1 = 1979-05-27T07:32:00Z", {"odt1"}, "d:1979-05-27T07:32:00Z"},
      {"Offset Date-Time",
       "odt2 = 1979-05-27T00:32:00-07:00",
       {"odt2"},
       "d:1979-05-27T00:32:00-07:00"},
      {"Offset Date-Time", "odt4 = 1979-05-27 07:32:00Z", {"odt4"}, "d:1979-05-27 07:32:00Z"},
      {"Local Date-Time", "ldt1 = 1979-05-27T07:32:00", {"ldt1"}, "d:1979-05-27T07:32:00"},
      {"Local Date", "ld1 = 1979-05-27", {"ld1"}, "d:1979-05-27"},
      {"Local Time", "lt1 = 07:32:00", {"lt1"}, "d:07:32:00"},
      {"Array", "integers = [ 1, 2, 3 ]", {"integers"}, "[3]"},
      {"Array", "nested = [ [ 1, 2 ], [\"a\", \"b\", \"c\"] ]", {"nested", "1", "2"}, "s:c"},
      {"Array",
       "string_array = [ \"all\", 'strings', \"\"\"are the same\"\"\", '''type''' ]",
       {"string_array", "3"},
       "s:type"},
      {"Array", "numbers = [ 0.1, 2, \"x\", { y = 1 } ]", {"numbers", "3"}, "{y}"},
      {"Array", "integers3 = [\n  1,\n  2, # this is ok\n]", {"integers3"}, "[2]"},
      {"Table", "[table]", {"table"}, "{}"},
      {"Table",
       "[dog.\"tater.man\"]\ntype.name = \"pug\"",
       {"dog", "tater.man", "type", "name"},
       "s:pug"},
      {"Table", "[ d.e.f ]\n[ g .  h  . i ]\n[ j . \"\xCA\x9E\" . 'l' ]", {"j", "\xCA\x9E"}, "{l}"},
      {"Table", "[x.y.z.w]\n[x]\na = 1", {"x"}, "{y,a}"},
      {"Table", "[fruit.apple]\n[animal]\n[fruit.orange]", {"fruit"}, "{apple,orange}"},
      {"Table",
       "name = \"Fido\"\n[owner]\nmember_since = 1999-08-04",
       {"owner", "member_since"},
       "d:1999-08-04"},
      {"Table",
       "fruit.apple.color = 1\nfruit.apple.taste.sweet = true",
       {"fruit", "apple"},
       "{color,taste}"},
      {"Table",
       "[fruit]\napple.color = 1\napple.taste.sweet = true\n[fruit.apple.texture]\n"
       "smooth = true",
       {"fruit", "apple"},
       "{color,taste,texture}"},
      {"Inline Table",
       "name = { first = \"Tom\", last = \"Preston-Werner\" }",
       {"name"},
       "{first,last}"},
      {"Inline Table", "animal = { type.name = \"pug\" }", {"animal", "type", "name"}, "s:pug"},
      {"Inline Table", "empty = {}", {"empty"}, "{}"},
      {"Array of Tables",
       "[[products]]\nname = 1\n[[products]]\n[[products]]\nname = 3",
       {"products", "2", "name"},
       "i:3"},
      {"Array of Tables",
       "[[products]]\nname = 1\n[[products]]\n[[products]]\nname = 3",
       {"products", "1"},
       "{}"},
      {"Array of Tables",
       "[[fruits]]\n[fruits.physical]\ncolor = 1\n[[fruits.varieties]]\n"
       "[[fruits.varieties]]\n[[fruits]]\n[[fruits.varieties]]",
       {"fruits", "0", "varieties"},
       "[2]"},
      {"Array of Tables",
       "[[fruits]]\n[fruits.physical]\ncolor = 1\n[[fruits.varieties]]\n"
       "[[fruits.varieties]]\n[[fruits]]\n[[fruits.varieties]]",
       {"fruits", "1", "varieties"},
       "[1]"},
      {"Array of Tables",
       "points = [ { x = 1, y = 2 },\n           { x = 7, y = 8 } ]",
       {"points", "1", "y"},
       "i:8"},
      {"Spec: newlines", "a = 1\r\nb = 2\r\n", {"b"}, "i:2"},
      {"Spec: whitespace", "\t a\t=\t1 \t", {"a"}, "i:1"},
      {"Spec: case", "a = 1\nA = 2", {"A"}, "i:2"},
  };
  return rows;
}

const std::vector<Row>& invalid_rows() {
  static const std::vector<Row> rows = {
      {"Comment: control characters", "a = 1 # \x01"},
      {"Comment: control characters", "a = 1 # \x7F"},
      {"Key/Value Pair", "key = # INVALID"},
      {"Key/Value Pair", "first = \"Tom\" last = \"Preston-Werner\""},
      {"Key/Value Pair: one line", "key\n= 1"},
      {"Keys", "= \"no key name\""},
      {"Keys", "name = \"Tom\"\nname = \"Pradyun\""},
      {"Keys", "spelling = \"favorite\"\n\"spelling\" = \"favourite\""},
      {"Keys", "fruit.apple = 1\nfruit.apple.smooth = true"},
      {"Keys: bare", "caf\xC3\xA9 = 1"},
      {"Keys: dots", "a..b = 1"},
      {"String: escapes", "a = \"\\q\""},
      {"String: escapes", "a = \"\\uD800\""},
      {"String: escapes", "a = \"\\U00110000\""},
      {"String: control characters", "a = \"\x01\""},
      {"String: control characters", "a = 'x\x7F'"},
      {"String: one line", "a = \"one\ntwo\""},
      {"String: one line", "a = 'one\ntwo'"},
      {"String: not closed", "a = \"\"\"open"},
      {"String", "str5 = \"\"\"Here are three quotation marks: \"\"\".\"\"\""},
      {"String", "apos15 = '''Here are fifteen apostrophes: ''''''''''''''''''"},
      {"Integer: leading zeros", "a = 012"},
      {"Integer: underscores", "a = 1__000"},
      {"Integer: underscores", "a = _1"},
      {"Integer: underscores", "a = 1_"},
      {"Integer: prefix", "a = +0xFF"},
      {"Integer: prefix", "a = 0x_FF"},
      {"Integer: prefix", "a = 0XFF"},
      {"Integer: range", "a = 9223372036854775808"},
      {"Integer: range", "a = -9223372036854775809"},
      {"Float", "invalid_float_1 = .7"},
      {"Float", "invalid_float_2 = 7."},
      {"Float", "invalid_float_3 = 3.e+20"},
      {"Float: underscores", "a = 1_.5"},
      {"Float: leading zeros", "a = 01.5"},
      {"Float: lowercase", "a = Inf"},
      {"Float: lowercase", "a = NaN"},
      {"Boolean: lowercase", "a = True"},
      {"Local Date: calendar", "a = 2026-02-30"},
      {"Local Date: calendar", "a = 2026-13-01"},
      {"Local Time: clock", "a = 25:00:00"},
      {"Array", "a = [1 2]"},
      {"Array", "a = [1,,2]"},
      {"Array: not closed", "a = [1, 2"},
      {"Table", "[fruit]\napple = 1\n[fruit]\norange = 2"},
      {"Table", "[fruit]\napple = 1\n[fruit.apple]\ntexture = 2"},
      {"Table", "[fruit]\napple.color = 1\n[fruit.apple]"},
      {"Table", "[fruit]\napple.color = 1\napple.taste.sweet = true\n[fruit.apple.taste]"},
      {"Table: header", "[]"},
      {"Table: header", "[a"},
      {"Table: header", "[a] b = 1"},
      {"Table: header", "[a.]"},
      {"Inline Table: comma", "a = { x = 1, }"},
      {"Inline Table: newline", "a = { x = 1,\n y = 2 }"},
      {"Inline Table", "[product]\ntype = { name = 1 }\ntype.edible = false"},
      {"Inline Table", "[product]\ntype.name = 1\ntype = { edible = false }"},
      {"Inline Table: self-contained", "a = { b = 1 }\n[a.c]"},
      {"Array of Tables", "[fruit.physical]\ncolor = 1\n[[fruit]]\nname = 2"},
      {"Array of Tables", "fruits = []\n[[fruits]]"},
      {"Array of Tables", "[[fruits]]\n[[fruits.varieties]]\n[fruits.varieties]"},
      {"Array of Tables", "[[fruits]]\n[fruits.physical]\n[[fruits.physical]]"},
      {"Spec: newlines", "a = 1\rb = 2"},
  };
  return rows;
}

}  // namespace

TEST_CASE("the valid examples of TOML 1.0.0 are read as it says", "[spec][toml][outside]") {
  for (const ValidRow& row : valid_rows()) {
    const auto document = load(row.text);
    CAPTURE(row.section, row.text, words(document.findings));
    CHECK(document.findings.empty());
    CHECK(value_at(document.value.root, row.path) == row.value);
  }
}

TEST_CASE("the invalid examples of TOML 1.0.0 are told, with their line", "[spec][toml][outside]") {
  for (const Row& row : invalid_rows()) {
    const auto document = load(row.text);
    CAPTURE(row.section, row.text, words(document.findings));
    REQUIRE(document.findings.size() == 1);
    const bool open = row.section == std::string_view("String: one line");
    CHECK(document.findings[0].code == (open ? "input.open_quote" : "input.syntax"));
    CHECK(document.findings[0].place->line >= 1);
    CHECK(document.findings[0].place->line <= 5);
  }
}

TEST_CASE("a file must be UTF-8 without surrogates or overlong forms", "[spec][toml][outside]") {
  // RFC 3629, sections 3 and 4.
  for (const char* bytes : {"\xC0\x80", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\x80",
                            "\xC3", "\xF5\x80\x80\x80"}) {
    const auto document = load("a = \"" + std::string(bytes) + "\"");
    REQUIRE(codes(document.findings) == std::vector<std::string>{"input.not_utf8"});
  }
  for (const char* bytes : {"\xC2\x80", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80",
                            "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBF"}) {
    CHECK(load("a = \"" + std::string(bytes) + "\"").findings.empty());
  }
}

TEST_CASE("a value with a unit and no quotes is told with the line mended", "[spec][toml]") {
  struct Case {
    const char* text;
    const char* mended;
  };
  for (const Case& row : {Case{"width = 900 mm", "width = \"900 mm\""},
                          Case{"module.rack.width = 22 1/16 in   # between", "module.rack.width = \"22 1/16 in\""},
                          Case{"a = -5 mm + b", "a = \"-5 mm + b\""}, Case{"a = .5 kg", "a = \".5 kg\""},
                          Case{"faces = right  # of it", "faces = \"right\""},
                          Case{"a = 3/4", "a = \"3/4\""}}) {
    const auto document = load(row.text);
    CAPTURE(row.text, words(document.findings));
    REQUIRE(codes(document.findings) == std::vector<std::string>{"input.no_quotes"});
    CHECK(std::get<std::string>(document.findings[0].argument("mended")->value) == row.mended);
  }
  for (const char* text : {"a = 1 2", "a = \"x", "a = [1, 2", "= 3 mm", "a = 1 # mm"}) {
    CAPTURE(text);
    CHECK_FALSE(codes(load(text).findings) == std::vector<std::string>{"input.no_quotes"});
  }
}
