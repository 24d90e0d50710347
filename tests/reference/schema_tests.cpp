#include "layout/project.hpp"
#include "reference/reference.hpp"
#include "small_project.hpp"
#include "starter/starter.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>

using namespace ribbay;
using namespace ribbay::testing;
namespace fs = std::filesystem;

namespace {

const std::string kParams = RIBBAY_SOURCE_DIR "/params/";

/// What validate.py says, one line for each file: "ok FILE" or "bad FILE: ...".
std::vector<std::string> validated(const std::string& arguments) {
  const std::string command = "python3 -W ignore '" RIBBAY_SOURCE_DIR
                              "/tests/reference/validate.py' " +
                              arguments + " 2>&1";
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> pipe(::popen(command.c_str(), "r"),
                                                             &::pclose);
  REQUIRE(pipe);
  std::string said;
  for (int c = std::fgetc(pipe.get()); c != EOF; c = std::fgetc(pipe.get()))
    said += static_cast<char>(c);
  std::vector<std::string> lines = split(said, '\n');
  lines.pop_back();
  return lines;
}

std::string files_below(const std::string& folder) {
  std::vector<std::string> found;
  for (const auto& entry : fs::directory_iterator(kParams + folder)) {
    if (entry.path().extension() == ".toml") found.push_back(" '" + entry.path().string() + "'");
  }
  std::ranges::sort(found);
  return join(found, "");
}

std::string written(const fs::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
  return path.string();
}

std::string replaced(std::string text, const std::string& old, const std::string& fresh) {
  const std::size_t at = text.find(old);
  REQUIRE(at != std::string::npos);
  return text.replace(at, old.size(), fresh);
}

/// A text with one thing wrong with it, or with none.
struct Spoilt {
  const char* name;
  std::string text;
  bool good = false;
};

std::string project() {
  return "format = 1\ninclude = [\"" + kParams + "stock/materials.toml\", \"" + kParams +
         "stock/aluminium.toml\", \"" + kParams + "stock/sheets.toml\", \"" + kParams +
         "stock/hardware.toml\", \"" + kParams +
         "equipment/equipment.toml\"]\n[project]\nname = \"bench\"\nvehicle = \"" + kParams +
         "vehicles/long_high.toml\"\n" + kPlainRack +
         "[module.rack.holds.battery]\nitem = \"battery_small\"\nbay = 2\nlevel = 1\n";
}

std::vector<Spoilt> spoilt_projects() {
  const auto with = [](const std::string& old, const std::string& fresh) {
    return replaced(project(), old, fresh);
  };
  return {
      {"nothing wrong", project(), true},
      {"a quantity in inches", with("\"600 mm\"", "\"23 5/8 in\""), true},
      {"a bare number", with("\"600 mm\"", "600"), true},
      {"one size instead of a list",
       replaced(with("[\"1 share\", \"400 mm\"]", "\"1 share\""), "bay = 2", "bay = 1"), true},
      {"a field that does not exist", with("depth =", "dept =")},
      {"a field of another kind", with("depth =", "guard_height = 3\ndepth =")},
      {"a field of [project] that does not exist", with("name =", "titel = \"x\"\nname =")},
      {"a table that does not exist", project() + "[modul.x]\n"},
      {"a number where a text goes", with("\"rear\"", "3")},
      {"a truth value where a length goes", with("\"600 mm\"", "true")},
      {"a table where a length goes", with("\"600 mm\"", "{ mm = 600 }")},
      {"a text where a date goes", with("name =", "date = 3\nname =")},
      {"a choice that does not exist", with("\"rear\"", "\"up\"")},
      {"a choice inside a table that does not exist", with("\"walls\"", "\"wall\"")},
      {"a kind that does not exist", with("\"rack\"", "\"rak\"")},
      {"a negative size", with("\"600 mm\"", "-600")},
      {"half a level", with("level = 1", "level = 1.5")},
      {"a field that is missing", with("profile = \"slotted_40\"\n", "")},
      {"a field inside a named table that is missing", with("bay = 2\n", "")},
      {"a name with a capital", with("module.rack]", "module.Rack]")},
      {"a format of the future", with("format = 1", "format = 2")},
  };
}

bool reads(const std::string& path, const std::vector<std::string>& overrides = {}) {
  const auto inputs = read_inputs(path, overrides);
  if (!inputs.value || has_errors(inputs.findings)) return false;
  return !has_errors(lay_out(*inputs.value).findings);
}

}  // namespace

TEST_CASE("every parameter file of the repository agrees with its schema", "[reference][schema]") {
  const std::string project_schema = "'" + kParams + "project.schema.json' ";
  const std::string vehicle_schema = "'" + kParams + "vehicle.schema.json' ";
  const std::string projects =
      files_below("marsh") + files_below("stock") + files_below("equipment");
  const std::string merged =
      "--merged '" + kParams + "marsh/marsh.toml' '" + kParams + "marsh/marsh_first_try.toml'";
  for (const std::string& arguments : {project_schema + projects, project_schema + merged,
                                       vehicle_schema + files_below("vehicles")}) {
    const auto lines = validated(arguments);
    CHECK(lines.size() > 1);
    for (const std::string& line : lines) CHECK_THAT(line, Catch::StartsWith("ok "));
  }
}

TEST_CASE("a new project agrees with the schema in both units", "[reference][schema]") {
  const TemporaryFolder home;
  std::string files;
  for (const auto unit : {LengthStyle::millimetres, LengthStyle::inches}) {
    const auto made = starter_project({.name = "camper", .unit = unit});
    const bool inches = unit == LengthStyle::inches;
    files += " '" + written(home.path() / (inches ? "in.toml" : "mm.toml"), made[0].bytes) + "'";
  }
  const auto lines = validated("'" + kParams + "project.schema.json'" + files);
  CHECK(lines.size() == 2);
  for (const std::string& line : lines) CHECK_THAT(line, Catch::StartsWith("ok "));
}

TEST_CASE("the schema refuses what the reader refuses", "[reference][schema]") {
  const TemporaryFolder home;
  const std::vector<Spoilt> rows = spoilt_projects();
  std::string files;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const std::string name = std::to_string(i) + ".toml";
    files += " '" + written(home.path() / name, rows[i].text) + "'";
  }
  const auto lines = validated("'" + kParams + "project.schema.json'" + files);
  REQUIRE(lines.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].name, lines[i]);
    CHECK(lines[i].starts_with("ok ") == rows[i].good);
    CHECK(lines[i].starts_with("bad ") != rows[i].good);
    CHECK(reads((home.path() / (std::to_string(i) + ".toml")).string()) == rows[i].good);
  }
}

TEST_CASE("a file that builds on others need not repeat them", "[reference][schema]") {
  const TemporaryFolder home;
  const std::vector<Spoilt> rows = {
      {"a changed value", "include = [\"x.toml\"]\n[module.rack]\ndepth = 500\n", true},
      {"a changed value that no kind has", "include = [\"x.toml\"]\n[module.rack]\ndept = 500\n"},
      {"a module based on another",
       "include = [\"x.toml\"]\n[module.b]\nkind = \"rack\"\nbased_on = \"rack\"\n", true},
      {"a pattern for others",
       "include = [\"x.toml\"]\n[module.b]\nkind = \"rack\"\nwhen = false\n", true},
      {"a module under a condition that lacks fields",
       "include = [\"x.toml\"]\n[module.b]\nkind = \"rack\"\nwhen = \"winter\"\n"},
      {"options", "[options]\nwinter = true\ncold = \"winter\"\n", true},
      {"an option that is a number", "[options]\nwinter = 3\n"},
      {"removed entries", "include = [\"x.toml\"]\n[module]\nremove = [\"rack\"]\n", true},
      {"stock that changes one fact", "include = [\"x.toml\"]\n[material.steel]\ntitle = \"S\"\n",
       true},
      {"stock that lacks a fact", "[material.steel]\ntitle = \"Steel\"\n"},
  };
  std::string files;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    files += " '" + written(home.path() / (std::to_string(i) + ".toml"), rows[i].text) + "'";
  }
  const auto lines = validated("'" + kParams + "project.schema.json'" + files);
  REQUIRE(lines.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].name);
    CHECK_THAT(lines[i], Catch::StartsWith(rows[i].good ? "ok " : "bad "));
  }
}

TEST_CASE("the vehicle schema refuses what the reader of vehicles refuses", "[reference][schema]") {
  const TemporaryFolder home;
  const std::string sound = kStraightVan;
  const std::string plain = written(home.path() / "project.toml", project());
  const std::vector<Spoilt> rows = {
      {"nothing wrong", sound, true},
      {"a field that does not exist", replaced(sound, "rear_sill", "rear_still")},
      {"a table that does not exist", sound + "[window.left]\n"},
      {"a text where a list of lengths goes", replaced(sound, "[0, 900, 1890, 1900]", "{}")},
      {"a choice that does not exist", replaced(sound, "\"skin\"", "\"skins\"")},
      {"a missing field", replaced(sound, "x = \"0 mm\"\n", "")},
      {"a negative half width", replaced(sound, "[800, 800, 800, 30]", "[800, 800, -1, 30]")},
  };
  std::string files;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    files += " '" + written(home.path() / (std::to_string(i) + ".toml"), rows[i].text) + "'";
  }
  const auto lines = validated("'" + kParams + "vehicle.schema.json'" + files);
  REQUIRE(lines.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].name, lines[i]);
    CHECK_THAT(lines[i], Catch::StartsWith(rows[i].good ? "ok " : "bad "));
    const std::string van = (home.path() / (std::to_string(i) + ".toml")).string();
    CHECK(reads(plain, {"project.vehicle=" + van}) == rows[i].good);
  }
}
