#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <functional>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

struct Bad {
  const char* name;
  std::function<std::string(const std::string&)> spoil;
  const char* place;               ///< file:line:column that must stand before "error"
  std::vector<const char*> words;  ///< what the message must say
};

std::function<std::string(const std::string&)> swap_line(std::string old, std::string fresh) {
  return [=](const std::string& text) { return replaced(text, old, fresh); };
}

const std::vector<Bad>& bad_inputs() {
  static const std::vector<Bad> rows = {
      {"an empty file",
       [](const std::string&) { return std::string(); },
       "project.toml",
       {"nothing in this file"}},
      {"text that is not UTF-8",
       swap_line("\"bench\"", "\"b\xff\""),
       "project.toml:5:10",
       {"not UTF-8"}},
      {"an unclosed string", swap_line("\"bench\"", "\"bench"), "project.toml:5:14", {}},
      {"an unclosed table", swap_line("[values]", "[values"), "project.toml:8:8", {}},
      {"a key twice", swap_line("other = \"reach\"", "reach = 3"), "project.toml:10:9", {"reach"}},
      {"an unknown field", swap_line("depth =", "dept ="), "project.toml:18:1", {"dept", "depth"}},
      {"an unknown module kind",
       swap_line("kind = \"rack\"", "kind = \"rak\""),
       "project.toml:13:8",
       {"rak", "rack"}},
      {"an unknown table",
       swap_line("[values]", "[vaules]"),
       "project.toml:8:2",
       {"vaules", "values"}},
      {"a missing field",
       swap_line("profile = \"slotted_40\"\n", ""),
       "project.toml:12:1",
       {"profile"}},
      {"a mass where a length goes",
       swap_line("\"800 mm\"", "\"12 kg\""),
       "project.toml:19:11",
       {"mass", "length"}},
      {"a unit that does not exist",
       swap_line("\"800 mm\"", "\"800 mmm\""),
       "project.toml:19:15",
       {"mmm"}},
      {"a number where a text goes", swap_line("\"rear\"", "3"), "project.toml:14:9", {}},
      {"no size at all",
       swap_line("\"900 mm\"", "\"0 mm\""),
       "project.toml:17:9",
       {"0 mm", "more than"}},
      {"a negative size", swap_line("\"900 mm\"", "\"-900 mm\""), "project.toml:17:9", {"-900 mm"}},
      {"a profile that is not in the catalogue",
       swap_line("\"slotted_40\"", "\"slotted_4O\""),
       "project.toml:15:11",
       {"slotted_4O", "slotted_40"}},
      {"a name that nobody has",
       swap_line("depth = \"reach\"", "depth = \"raech + 1 mm\""),
       "project.toml:18:10",
       {"raech", "reach"}},
      {"a division by zero",
       swap_line("\"500 mm\"", "\"500 mm / (3 - 3)\""),
       "project.toml:9:19",
       {"zero"}},
      {"values in a circle",
       swap_line("\"500 mm\"", "\"other\""),
       "project.toml:9:9",
       {"reach", "other"}},
      {"lengths multiplied",
       swap_line("\"500 mm\"", "\"500 mm * 3 mm\""),
       "project.toml:18:10",
       {"area", "length"}},
      {"an infinite size", swap_line("\"900 mm\"", "inf"), "project.toml:17:9", {}},
      {"a billion levels",
       swap_line("bays = [\"1 share\", \"1 share\"]",
                 "bays = [\"1000000000 shares\"]\n[module.bunk]\nkind = "
                 "\"bunk\"\nfaces=\"front\"\nbeam = \"i_beam_80\"\nbeams = 1000000000"),
       "project.toml:26:9",
       {"1000000000", "at most"}},
      {"bays wider than the rack",
       swap_line("\"1 share\", \"1 share\"", "\"600 mm\", \"1 share\", \"500 mm\""),
       "project.toml:21:8",
       {"1100 mm"}},
      {"a file format of the future",
       swap_line("format = 1", "format = 99"),
       "project.toml:1:10",
       {"99"}},
      {"a file that includes itself",
       swap_line("include = [", "include = [\"project.toml\", "),
       "project.toml:2:12",
       {"includes itself"}},
      {"an include that is not there",
       swap_line("include = [", "include = [\"nowhere.toml\", "),
       "project.toml:2:12",
       {"nowhere.toml"}},
      {"a van that is not there",
       swap_line("vehicles/long_high", "vehicles/long_hihg"),
       "project.toml:6:11",
       {"long_hihg"}},
      {"a text of a million letters",
       swap_line("\"bench\"", "\"" + std::string(1'000'000, 'b') + "\""),
       "project.toml:5:8",
       {"4096"}},
      {"lists a thousand deep",
       swap_line("\"500 mm\"", std::string(1000, '[')),
       "project.toml:9:265",
       {"depth"}},
  };
  return rows;
}

}  // namespace

TEST_CASE("the project that the bad ones are made from is sound", "[app][input]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const Run result = run({"check", file});
  CAPTURE(result.out, result.err);
  CHECK(result.code <= 1);
}

TEST_CASE("wrong input ends with 2, the place and what is wrong", "[app][input]") {
  for (const Bad& bad : bad_inputs()) {
    CAPTURE(bad.name);
    const TemporaryFolder home;
    const std::string file = write_project(home.path(), bad.spoil(sound_project()));
    const fs::path out = home.path() / "out";

    const Run result = run({"build", file, "--out", out.string()});

    CAPTURE(result.out, result.err);
    CHECK(result.code == 2);
    CHECK_THAT(result.out, Catch::Contains(std::string(bad.place) + ": error: "));
    for (const char* word : bad.words) CHECK_THAT(result.out, Catch::Contains(word));
    CHECK_THAT(result.out, Catch::EndsWith("nothing was built\n"));
    CHECK_FALSE(fs::exists(out));
  }
}

TEST_CASE("several mistakes are told at once, in the order of the file", "[app][input]") {
  const TemporaryFolder home;
  std::string text = replaced(sound_project(), "depth =", "dept =");
  text = replaced(text, "\"900 mm\"", "\"9 kg\"");
  text = replaced(text, "\"slotted_40\"", "\"slotted_4O\"");
  const std::string file = write_project(home.path(), text);
  const Run result = run({"check", file});
  CAPTURE(result.out);
  CHECK(result.code == 2);
  const std::size_t first = result.out.find("project.toml:15:");
  const std::size_t second = result.out.find("project.toml:17:");
  const std::size_t third = result.out.find("project.toml:18:");
  REQUIRE(third != std::string::npos);
  CHECK(first < second);
  CHECK(second < third);
}

TEST_CASE("a file that is not there", "[app][input]") {
  const Run result = run({"check", "nowhere/project.toml"});
  CHECK(result.code == 2);
  CHECK_THAT(result.out, Catch::Contains("nowhere/project.toml") && Catch::Contains("error: "));
}

TEST_CASE("a wrong --set is told like a wrong file", "[app][input]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const auto setting = GENERATE("rack.dpeth=3mm", "rack.depth=3kg", "rack.depth", "=",
                                "rack.depth.more=1", "rack.depth=\"");
  const Run result = run({"check", file, "--set", setting});
  CAPTURE(setting, result.out, result.err);
  CHECK(result.code == 2);
  CHECK_THAT(result.out, Catch::Contains("--set:1:"));
}

TEST_CASE("a drawer with no room is told with its numbers", "[app][input]") {
  // Slides of 12.7 mm each side and sides of 12 mm leave nothing in a column of 45 mm.
  const Run result = run({"check", RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml", "--set",
                          "galley.columns.drawers.width=45mm"});
  CAPTURE(result.out, result.err);
  CHECK(result.code == 2);
  CHECK_THAT(result.out, Catch::Contains("has no room"));
}
