// `ribbay cut` as somebody with a list and a saw meets it.
#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <fstream>
#include <iterator>

using namespace ribbay;
using Json = nlohmann::json;

namespace {

/// A folder with a table of pieces and one of stock.
class Tables {
 public:
  Tables(const std::string& pieces, const std::string& stock) {
    write("pieces.csv", pieces);
    write("stock.csv", stock);
  }

  Run cut(std::vector<std::string> options = {}) const {
    std::vector<std::string> arguments = {"cut", path("pieces.csv"), "--stock", path("stock.csv")};
    arguments.insert(arguments.end(), options.begin(), options.end());
    return run(arguments);
  }

  std::string path(const std::string& name) const { return (folder_.path() / name).string(); }

 private:
  void write(const std::string& name, const std::string& text) {
    std::ofstream(path(name), std::ios::binary) << text;
  }

  TemporaryFolder folder_;
};

const std::string kStock = "stock,length,quantity,price\r\nbar,6000,,60\r\n";

bool tells(const Run& run, const std::string& text) {
  return run.out.find(text) != std::string::npos;
}

}  // namespace

TEST_CASE("a list of bars is planned, with its proof", "[app][cut]") {
  // By hand: 10 + 2 x (2000 + 3) + 1900 + 10 fit into 6000, so two bars give four of 2 m and two
  // of 1.9 m; by length no single bar gives 11.8 m.
  const Tables tables("label,length,quantity\nrail,2000,4\n\"post, short\",1.9 m,2\n", kStock);
  const Run json = tables.cut({"--kerf", "3mm", "--trim", "10mm", "--json"});
  REQUIRE(json.code == 0);
  const Json plan = Json::parse(json.out);
  CHECK(plan["pieces"] == 6);
  CHECK(plan["bars"] == 2);
  CHECK(plan["bound"] == 2);
  CHECK(plan["bound_of"] == "bars");
  CHECK(plan["proven"] == true);
  CHECK(plan["cost"] == 120.0);
  CHECK(plan["waste"] == 12000.0 - 11800.0);
  int pieces = 0;
  for (const Json& bar : plan["plans"]) {
    double end = 10.0;
    for (const Json& piece : bar["pieces"]) {
      CHECK(piece["from"].get<double>() == Approx(end));
      end = piece["to"].get<double>() + 3.0;
      pieces += bar["count"].get<int>();
    }
    CHECK(end - 3.0 <= 5990.0);
  }
  CHECK(pieces == 6);
  CHECK(plan["proofs"][0]["worths"].size() >= 1);

  const Run words = tables.cut({"--kerf", "3mm", "--trim", "10mm"});
  CHECK(words.code == 0);
  CHECK(tells(words, "post, short"));
  CHECK(tells(words, "2 bars for 6 pieces, cost 120"));
  CHECK(tells(words, "proven"));
}

TEST_CASE("inches and fractions are read and printed", "[app][cut]") {
  const Tables tables("label,length,quantity\nrail,23 5/8 in,3\n", "stock,length\nbar,8 ft\n");
  const Run words = tables.cut({"--kerf", "1/8 in", "--unit", "in"});
  REQUIRE(words.code == 0);
  CHECK(tells(words, "23 5/8"));
  CHECK(tells(words, "1 bar for 3 pieces, takes 2.44 m"));
}

TEST_CASE("each section is cut from its own stock", "[app][cut]") {
  const Tables tables("label,length,quantity,stock\na,2500,2,thin\nb,2500,1,thick\n",
                      "stock,length,quantity,price\nthin,6000,,30 EUR\nthick,3000,,50 EUR\n");
  const Json plan = Json::parse(tables.cut({"--json"}).out);
  CHECK(plan["bars"] == 2);
  CHECK(plan["cost"] == 80.0);
  CHECK(plan["cost_unit"] == "EUR");
  CHECK(plan["proven"] == true);
}

TEST_CASE("sheets are planned with fence and stage", "[app][cut]") {
  const Tables tables("label,length,width,quantity,grain\ndoor,1208.5,598.5,4,yes\n",
                      "stock,length,width,quantity,price\nboard,2440,1220,,40\n");
  const Run json = tables.cut({"--kerf", "3mm", "--trim", "10mm", "--three-stages", "--json"});
  REQUIRE(json.code == 0);
  const Json plan = Json::parse(json.out);
  CHECK(plan["sheets"] == 1);
  CHECK(plan["bound"] == 1);
  CHECK(plan["proven"] == true);
  CHECK(plan["plans"][0]["cuts"].size() == 7);
  const Run words = tables.cut({"--kerf", "3mm", "--trim", "10mm"});
  CHECK(tells(words, "fence"));
  CHECK(tells(words, "door"));
  CHECK(tells(words, "1 sheet for 4 pieces"));
}

TEST_CASE("without prices the area counts, to a hundredth", "[app][cut]") {
  // 2.44 x 1.22 = 2.9768 m2. By hand: four to a sheet, so six need two.
  const Tables tables("label,length,width,quantity,grain\nlid,1200,590,6,yes\n",
                      "stock,length,width\nboard,2440,1220\n");
  const Json plan = Json::parse(tables.cut({"--kerf", "3mm", "--trim", "10mm", "--json"}).out);
  CHECK(plan["sheets"] == 2);
  CHECK(plan["bound"] == 2);
  CHECK(plan["cost"].get<double>() == Approx(2 * 2.98));
  CHECK(plan["cost_unit"] == "m2");
}

TEST_CASE("a fault in a table is told with its line, its column and its mend", "[app][cut]") {
  struct Row {
    const char* name;
    const char* pieces;
    const char* stock;
    const char* place;
    const char* code;
  };
  const char* fine = "stock,length\nbar,6000\n";
  const auto row = GENERATE_COPY(values<Row>({
      {"too long", "label,length,quantity\nrail,7000,1\n", fine, "pieces.csv:2:6", "cut.too_long"},
      {"no number", "label,length,quantity\nrail,long,1\n", fine, "pieces.csv:2:6",
       "csv.not_a_quantity"},
      {"mass", "label,length,quantity\nrail,3 kg,1\n", fine, "pieces.csv:2:6",
       "expression.dimension"},
      {"below nothing", "label,length,quantity\nrail,-5,1\n", fine, "pieces.csv:2:6",
       "input.not_above"},
      {"half a piece", "label,length,quantity\nrail,500,1.5\n", fine, "pieces.csv:2:10",
       "input.not_whole"},
      {"no length", "label,length,quantity\nrail,,2\n", fine, "pieces.csv:2:1", "input.missing"},
      {"misspelt", "label,lenght,quantity\nrail,500,2\n", fine, "pieces.csv:1:7",
       "csv.unknown_column"},
      {"no column", "label,quantity\nrail,2\n", fine, "pieces.csv:1:1", "csv.missing_column"},
      {"two columns", "label,length,length\nrail,2,3\n", fine, "pieces.csv:1:14",
       "csv.column_twice"},
      {"too many fields", "label,length,quantity\nrail,1,2,3\n", fine, "pieces.csv:2:1",
       "csv.fields"},
      {"open quote", "label,length,quantity\n\"rail,500,2\n", fine, "pieces.csv:2:1",
       "csv.not_closed"},
      {"behind a quote", "label,length,quantity\n\"ra\"il,500,2\n", fine, "pieces.csv:2:5",
       "csv.bad_quote"},
      {"stock without length", "label,length,quantity\nrail,500,1\n", "stock,quantity\nbar,4\n",
       "stock.csv:1:1", "csv.missing_column"},
      {"stock of no length", "label,length,quantity\nrail,500,1\n", "stock,length\nbar,\n",
       "stock.csv:2:1", "input.missing"},
      {"semicolons", "label;length;quantity\nrail;500;2\n", fine, "pieces.csv:1:1",
       "csv.separator"},
      {"semicolons and decimal commas", "label;length\nrail;500,5\n", fine, "pieces.csv:1:1",
       "csv.separator"},
      {"tabs", "label\tlength\nrail\t500\n", fine, "pieces.csv:1:1", "csv.separator"},
      {"decimal comma", "label,length,quantity\nrail,\"500,5\",2\n", fine, "pieces.csv:2:6",
       "expression.decimal_comma"},
      {"a thousand or one", "label,length,quantity\nrail,\"1,500\",2\n", fine, "pieces.csv:2:6",
       "csv.thousands"},
      {"a space among digits", "label,length\nrail,1 500\n", fine, "pieces.csv:2:8",
       "csv.not_a_quantity"},
      {"a formula", "label,length\nrail,=B1*2\n", fine, "pieces.csv:2:6", "csv.not_a_quantity"},
      {"no header", "rail,500,2\npost,600,1\n", fine, "pieces.csv:1:1", "csv.no_header"},
      {"a title above", "Cut list\nlabel,length\nrail,500\n", fine, "pieces.csv:1:1", "csv.title"},
      {"unit in a header", "label,length (mm)\nrail,500\n", fine, "pieces.csv:1:7",
       "csv.unknown_column"},
      {"empty", "", fine, "pieces.csv:1:1", "csv.no_rows"},
      {"not UTF-8", "label,length\nr\xff,500\n", fine, "pieces.csv:2:2", "input.not_utf8"},
      {"other stock", "label,length,stock\nrail,500,bra\n", fine, "pieces.csv:2:6",
       "cut.unknown_stock"},
      {"no price", "label,length\nrail,500\n", "stock,length,price\nbar,6000,\nbar,3000,5\n",
       "stock.csv:2:5", "cut.price_missing"},
      {"only one rest", "label,length,quantity\nrail,500,9\n",
       "stock,length,quantity\nbar,1200,1\n", "pieces.csv:2:6", "cut.not_enough"},
      {"too wide", "label,length,width\npanel,500,1300\n", "stock,length,width\nboard,1220,1220\n",
       "pieces.csv:2:7", "cut.too_large"},
      {"no widths", "label,length\nrail,500\n", "stock,length,width\nboard,2440,1220\n",
       "pieces.csv:1:1", "csv.missing_column"},
  }));
  CAPTURE(row.name);
  const Run told = Tables(row.pieces, row.stock).cut();
  CAPTURE(told.out);
  CHECK(told.code == 2);
  CHECK(tells(told, std::string(row.place)));
  CHECK(tells(told, std::string("[").append(row.code).append("]")));
  CHECK(tells(told, "mend: "));
}

TEST_CASE("what spreadsheets leave around a table is passed over", "[app][cut]") {
  // Byte order mark, capitals, CR LF or CR, an empty column at the end, rows of commas, and spaces
  // that do not break.
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    CAPTURE(end);
    const std::string pieces = "\xEF\xBB\xBFLabel,LENGTH,Quantity,," + end + "rail,500\u00A0mm,2,," +
                               end + ",,,," + end + end;
    const Tables tables(pieces.c_str(), kStock);
    const Run told = tables.cut({"--json"});
    CAPTURE(told.out);
    REQUIRE(told.code == 0);
    CHECK(Json::parse(told.out)["pieces"] == 2);
  }
}

TEST_CASE("a fault in an option or a missing table is told", "[app][cut]") {
  const Tables tables("label,length,quantity\nrail,500,2\n", kStock);
  const Run kerf = tables.cut({"--kerf", "3 kg"});
  CHECK(kerf.code == 2);
  CHECK(tells(kerf, "--kerf"));
  const Run less = tables.cut({"--kerf", "-3mm"});
  CHECK(less.code == 2);
  CHECK(tells(less, "[input.too_small]"));
  const Run stages = tables.cut({"--three-stages"});
  CHECK(stages.code == 2);
  CHECK(tells(stages, "--three-stages means nothing for bars"));
  const Run none = run({"cut", tables.path("none.csv"), "--stock", tables.path("stock.csv")});
  CHECK(none.code == 2);
  CHECK(tells(none, "[input.no_file]"));
  CHECK(run({"cut", tables.path("pieces.csv")}).code == 2);
}

TEST_CASE("faults are told all at once, those far down a long table too", "[app][cut]") {
  std::string pieces = "label,length,quantity\n";
  for (int row = 2; row <= 1500; ++row) pieces += row % 700 == 0 ? "rail,-5,1\n" : "rail,500,1\n";
  const Run told = Tables(pieces, "stock,length\nbar,x\n").cut({"--kerf", "-1 mm"});
  CHECK(told.code == 2);
  CHECK(tells(told, "pieces.csv:700:6"));
  CHECK(tells(told, "pieces.csv:1400:6"));
  CHECK(tells(told, "stock.csv:2:5"));
  CHECK(tells(told, "--kerf"));
}

TEST_CASE("a byte-order mark before the first column is passed over", "[app][cut]") {
  const Run words = Tables("\xEF\xBB\xBFlabel,length,quantity\nrail,500,2\n", kStock).cut();
  CHECK(words.code == 0);
  CHECK(tells(words, "1 bar for 2 pieces"));
}

TEST_CASE("a checker of its own accepts the proof of a build, and refuses a better claim", "[app][cut]") {
  const TemporaryFolder home;
  const std::string project = write_project(home.path() / "a", sound_project());
  REQUIRE(run({"build", project, "--only", "tables", "--out", (home.path() / "out").string()}).code == 0);
  const std::string proof = (home.path() / "out/shop/bars-proof.json").string();
  const auto accepted = [](const std::string& file) {
    const std::string call = RIBBAY_BINARY_DIR "/tests/check_bars_proof " + file + " > /dev/null";
    return std::system(call.c_str()) == 0;
  };
  CHECK(accepted(proof));
  std::ifstream in(proof);
  Json claim = Json::parse(in);
  REQUIRE(claim["plans"][0]["proven"] == true);
  Json& better = claim["plans"][0];
  better["proof"]["cost_bound"] = better["proof"]["cost_bound"].get<int>() + 1;
  better["proven"] = false;
  const std::string other = (home.path() / "claim.json").string();
  std::ofstream(other) << claim.dump();
  CHECK_FALSE(accepted(other));
}

TEST_CASE("a build plans its cuts, and what it leaves is cut up by the next one", "[app][cut]") {
  const TemporaryFolder home;
  const auto build = [&](const std::string& project, const std::string& out) {
    const Run run_ = run({"build", project, "--only", "tables", "--out", (home.path() / out).string()});
    CAPTURE(run_.out, run_.err);
    CHECK(run_.code == 0);
    std::ifstream in(home.path() / out / "shop/bars.csv", std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  };
  const std::string first = build(write_project(home.path() / "a", sound_project()), "first");
  CHECK_THAT(first, Catch::StartsWith("stock,bar,cut from,bar length mm,cut,mark,length mm,from mm,"
                                      "to mm,rest mm\r\nslotted_40,1"));
  CHECK_THAT(first, !Catch::Contains("offcut"));
  const std::string left = (home.path() / "first/shop/offcuts.toml").string();
  const std::string with_offcuts =
      replaced(sound_project(), "include = [", "include = [\"" + left + "\", ");
  const std::string second = build(write_project(home.path() / "b", with_offcuts), "second");
  CHECK_THAT(second, Catch::Contains("offcut slotted_40_1"));
}
