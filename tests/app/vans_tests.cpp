#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <sstream>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

const std::string kMarsh = RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml";

std::string vehicle(const std::string& name) {
  return RIBBAY_SOURCE_DIR "/params/vehicles/" + name + ".toml";
}

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Rows of a table without quoted commas, by their first cell.
std::map<std::string, std::vector<std::string>> rows_of(const std::string& csv) {
  std::map<std::string, std::vector<std::string>> rows;
  std::istringstream lines(csv);
  for (std::string line; std::getline(lines, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    std::vector<std::string> cells;
    std::istringstream words(line);
    for (std::string cell; std::getline(words, cell, ',');) cells.push_back(cell);
    if (!cells.empty()) rows.emplace(cells.front(), cells);
  }
  return rows;
}

/// "mark,title,stock,count,length,width,thickness,grain,material,ids": the size of each part.
std::map<std::string, std::string> cut_sizes(const std::string& van, const fs::path& out) {
  const Run built = run({"build", kMarsh, "--set", "project.vehicle=" + vehicle(van), "--only",
                         "tables", "--out", out.string()});
  INFO(built.out);
  REQUIRE(built.code <= 1);
  std::map<std::string, std::string> sizes;
  std::istringstream lines(bytes_of(out / "shop/cutlist.csv"));
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    // The ids come last, the sizes are the fifth to seventh cell; titles of the demo hold no comma.
    std::vector<std::string> cells;
    std::istringstream words(line);
    for (std::string cell; std::getline(words, cell, ',');) cells.push_back(cell);
    const std::string size = cells[4] + "," + cells[5] + "," + cells[6];
    std::istringstream ids(line.substr(line.rfind(',') + 1));
    for (std::string id; ids >> id;) {
      std::erase_if(id, [](char c) { return c == '"' || c == '\r' || c == ';'; });
      sizes[id] = size;
    }
  }
  return sizes;
}

}  // namespace

TEST_CASE("one project in three vans: what passes, what fails, which sizes change", "[app][vans]") {
  const TemporaryFolder folder;
  const fs::path out = folder.path() / "vans";
  const std::vector<std::string> arguments{
      "vans", kMarsh, vehicle("long_mid"), vehicle("short_low"), vehicle("long_high"), "--out",
      out.string()};
  const Run result = run(arguments);
  CAPTURE(result.out, result.err);
  CHECK(result.code == 1);
  // The project's own van comes first, and once.
  CHECK_THAT(result.out, Catch::StartsWith("             long_high "));
  CHECK_THAT(result.out, Catch::Contains("\nresult       passes "));
  const auto at = result.out.find("\nheater_sled ");
  REQUIRE(at != std::string::npos);
  CHECK_THAT(result.out.substr(at), Catch::Contains("as in long_high"));

  // The same answers as three runs give.
  for (const std::string& van : {std::string("long_mid"), std::string("short_low")}) {
    const Run alone = run({"check", kMarsh, "--set", "project.vehicle=" + vehicle(van), "--quiet"});
    CAPTURE(van, alone.out);
    std::istringstream lines(alone.out);
    for (std::string line; std::getline(lines, line);) CHECK_THAT(result.out, Catch::Contains(line));
  }

  const auto parts = rows_of(bytes_of(out / "van_parts.csv"));
  const auto high = cut_sizes("long_high", folder.path() / "high");
  const auto mid = cut_sizes("long_mid", folder.path() / "mid");
  REQUIRE(high.size() > 50);
  for (const auto& [id, size] : high) {
    const auto there = mid.find(id);
    if (there != mid.end() && there->second == size) continue;
    CAPTURE(id, size);
    CHECK(parts.contains(id));
  }
  CHECK_FALSE(parts.contains("galley/counter"));
  CHECK_THAT(bytes_of(out / "vans.html"), Catch::Contains("<h1>Marsh in 3 vans</h1>"));
  // Again: the same bytes, with one thread as with two.
  const std::string before = bytes_of(out / "vans.html");
  std::vector<std::string> again = arguments;
  again.insert(again.end(), {"--jobs", "1"});
  CHECK(run(again).out == result.out);
  CHECK(bytes_of(out / "vans.html") == before);
}

TEST_CASE("a van that cannot be read does not stop the others", "[app][vans]") {
  const TemporaryFolder folder;
  const fs::path broken = folder.path() / "broken.toml";
  std::ofstream(broken) << "format = 1\n[vehicle]\ntitle = \n";
  const Run result =
      run({"vans", kMarsh, broken.string(), (folder.path() / "none.toml").string(),
           vehicle("long_mid")});
  CAPTURE(result.out);
  CHECK(result.code == 2);
  CHECK_THAT(result.out, Catch::Contains("not laid out: 1 error"));
  CHECK_THAT(result.out, Catch::Contains("broken.toml:3:"));
  CHECK_THAT(result.out, Catch::Contains("none.toml: error: there is no file"));
  CHECK_THAT(result.out, Catch::Contains("1733.6 x"));  // the partition in long_mid
}

TEST_CASE("tables of vans never replace the output of a build", "[app][vans]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  REQUIRE(run({"build", kMarsh, "--only", "report", "--out", out}).code == 0);
  const Run result = run({"vans", kMarsh, vehicle("long_mid"), "--out", out});
  CAPTURE(result.err);
  CHECK(result.code == 2);
  CHECK_THAT(result.err, Catch::Contains("holds the output of ribbay build"));
  CHECK(fs::exists(fs::path(out) / "report.json"));
}

TEST_CASE("a build never replaces the tables of vans, and a form never replaces a build",
          "[app][vans]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  REQUIRE(run({"vans", kMarsh, vehicle("long_high"), "--out", out}).code == 0);
  const Run build = run({"build", kMarsh, "--only", "report", "--out", out});
  CAPTURE(build.err);
  CHECK(build.code == 2);
  CHECK_THAT(build.err, Catch::Contains("holds the output of ribbay vans"));
  CHECK(fs::exists(fs::path(out) / "vans.html"));
  const std::string built = (folder.path() / "built").string();
  REQUIRE(run({"build", kMarsh, "--only", "report", "--out", built}).code == 0);
  const Run form = run({"survey", "--out", built});
  CHECK(form.code == 2);
  CHECK(fs::exists(fs::path(built) / "report.json"));
}

TEST_CASE("a vehicle file may have any name", "[app][vans]") {
  const TemporaryFolder folder;
  const std::string name = GENERATE(as<std::string>(), "true", "5", "[x].toml", "a \"b\".toml");
  const fs::path file = folder.path() / name;
  fs::copy_file(vehicle("long_mid"), file);
  const Run result = run({"vans", kMarsh, file.string()});
  CAPTURE(name, result.out);
  CHECK(result.code == 0);
  CHECK_THAT(result.out, Catch::Contains("1733.6 x"));  // the partition in long_mid
}

TEST_CASE("nothing is compared with a van that was not laid out", "[app][vans]") {
  const TemporaryFolder folder;
  const fs::path broken = folder.path() / "broken.toml";
  std::ofstream(broken) << "format = 1\n[vehicle]\ntitle = \n";
  const std::string out = (folder.path() / "out").string();
  const Run result = run({"vans", kMarsh, vehicle("long_mid"), "--set",
                          "project.vehicle=" + broken.string(), "--out", out});
  CAPTURE(result.out);
  CHECK(result.code == 2);
  CHECK_THAT(result.out, Catch::Contains("not compared") && !Catch::Contains("as in"));
  CHECK_THAT(bytes_of(fs::path(out) / "vans.csv"), !Catch::Contains("same"));
  CHECK_THAT(bytes_of(fs::path(out) / "vans.html"), Catch::Contains("no parts were compared"));
  CHECK(rows_of(bytes_of(fs::path(out) / "van_parts.csv")).size() == 1);
}

TEST_CASE("a project never reads what its own build wrote", "[app][publish]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  REQUIRE(run({"build", kMarsh, "--only", "tables", "--out", out}).code == 0);
  const fs::path file = folder.path() / "again.toml";
  std::ofstream(file) << "format = 1\ninclude = [\"" << kMarsh << "\", \"out/shop/offcuts.toml\"]\n";
  const Run again = run({"build", file.string(), "--only", "tables", "--out", out});
  CAPTURE(again.out, again.err);
  CHECK(again.code == 2);
  CHECK_THAT(again.err, Catch::Contains("shop/offcuts.toml, which the last build wrote to"));
  fs::copy_file(fs::path(out) / "shop/offcuts.toml", folder.path() / "offcuts.toml");
  std::ofstream(file) << "format = 1\ninclude = [\"" << kMarsh << "\", \"offcuts.toml\"]\n";
  CHECK(run({"build", file.string(), "--only", "tables", "--out", out}).code == 0);
}

TEST_CASE("a project that cannot be read is told once for all vans", "[app][vans]") {
  const TemporaryFolder folder;
  const fs::path file = folder.path() / "wrong.toml";
  std::ofstream(file) << "format = 1\n[project\n";
  const Run result = run({"vans", file.string(), vehicle("long_mid"), vehicle("short_low")});
  CAPTURE(result.out);
  CHECK(result.code == 2);
  CHECK(result.out.find("wrong.toml:2:") == result.out.rfind("wrong.toml:2:"));
}
