#include "bench_project.hpp"
#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

using namespace ribbay;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::map<std::string, std::string> tree(const fs::path& folder) {
  std::map<std::string, std::string> files;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_regular_file())
      files[entry.path().lexically_relative(folder)] = bytes_of(entry.path());
  }
  return files;
}

/// The manifest's entries by path.
std::map<std::string, Json> manifest_of(const fs::path& folder) {
  std::map<std::string, Json> entries;
  const Json manifest = Json::parse(bytes_of(folder / "manifest.json"));
  for (const Json& entry : manifest["files"]) entries[entry["path"]] = entry;
  return entries;
}

}  // namespace

TEST_CASE("help and version are there for every command", "[app][command line]") {
  for (const std::vector<std::string>& command :
       {std::vector<std::string>{}, {"build"}, {"check"}, {"explain"}, {"new"}}) {
    CAPTURE(command);
    auto with = [&](const char* option) {
      std::vector<std::string> line = command;
      line.emplace_back(option);
      return run(line);
    };
    for (const char* option : {"--help", "-h"}) {
      const Run help = with(option);
      CHECK(help.code == 0);
      CHECK(help.err == "");
      CHECK_THAT(help.out,
                 Catch::Contains("Usage: ribbay" + (command.empty() ? "" : " " + command[0])));
    }
    const Run version = with("--version");
    CHECK(version.code == 0);
    CHECK_THAT(version.out, Catch::StartsWith("ribbay ") && Catch::EndsWith("\n"));
  }
}

TEST_CASE("a wrong command line ends with 2 and says why on the error stream",
          "[app][command line]") {
  struct Row {
    std::vector<std::string> line;
    const char* words;
  };
  const auto row = GENERATE(values<Row>({
      {{}, "Usage: ribbay"},
      {{"biuld", "x.toml"}, "did you mean build?"},
      {{"frobnicate"}, "no command \"frobnicate\""},
      {{"build"}, "FILE is required"},
      {{"build", "x.toml", "y.toml"}, "y.toml"},
      {{"build", "x.toml", "--jobs", "0"}, "--jobs"},
      {{"build", "x.toml", "--jobs", "many"}, "--jobs"},
      {{"build", "x.toml", "--only", "stepp"}, "--only"},
      {{"build", "x.toml", "--frob"}, "--frob"},
      {{"build", "x.toml", "--set"}, "--set"},
      {{"check", "x.toml", "--out", "y"}, "--out"},
      {{"explain", "gally"}, "did you mean galley?"},
      {{"explain", "--json-schema", "vans"}, "--json-schema"},
      {{"explain", "rack", "--json"}, "a value of a project"},
      {{"nwe", "camper"}, "did you mean new?"},
      {{"new"}, "NAME is required"},
      {{"new", "camper", "--vehicle", "medium"}, "--vehicle"},
      {{"new", "camper", "--unit", "cm"}, "--unit"},
  }));
  CAPTURE(row.line);
  const Run result = run(row.line);
  CHECK(result.code == 2);
  CHECK(result.out == "");
  CHECK_THAT(result.err, Catch::Contains(row.words));
}

TEST_CASE("explain prints every field of a kind with unit, default, limit and meaning",
          "[app][explain]") {
  const Run list = run({"explain"});
  CHECK(list.code == 0);
  for (const char* kind :
       {"project", "rack", "galley", "bunk", "partition", "profile", "station"}) {
    CHECK_THAT(list.out, Catch::Contains("\n  " + std::string(kind) + " "));
    const Run page = run({"explain", kind});
    CHECK(page.code == 0);
    CHECK_THAT(page.out, Catch::StartsWith("["));
  }
  const Run rack = run({"explain", "rack"});
  CHECK_THAT(rack.out, Catch::Contains("\n  depth\n      length in mm, more than 0 mm\n"));
  CHECK_THAT(rack.out, Catch::Contains("\n  profile\n      name of a profile, required\n"));
  CHECK_THAT(rack.out,
             Catch::Contains("\n  place.gap\n      length in mm, at least 0 mm, default 0 mm\n"));
  CHECK_THAT(rack.out, Catch::Contains("\n  holds.NAME.item\n"));
}

TEST_CASE("check prints its findings and writes nothing", "[app]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), held_project());
  const Run result = run({"check", file});
  CHECK(result.code == 0);
  CHECK_THAT(result.out, Catch::Contains("result    nothing wrong found\n"));
  CHECK_THAT(result.err, Catch::StartsWith("took "));
  CHECK(tree(home.path()).size() == 1);
}

TEST_CASE("build writes every file that the manifest lists, and no other", "[app]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const fs::path out = home.path() / "out/bench";

  const Run result = run({"build", file, "--out", out.string()});

  CAPTURE(result.out, result.err);
  CHECK(result.code == 0);
  const auto files = tree(out);
  const auto manifest = manifest_of(out);
  CHECK(files.size() == manifest.size() + 1);
  for (const char* path : {"report.json", "summary.txt", "model/assembly.step", "model/rack.step",
                           "model/assembly.glb", "shop/cutlist.csv", "shop/hardware.csv"}) {
    CAPTURE(path);
    CHECK(files.contains(path));
    CHECK(manifest.contains(path));
  }
  // sha256sum of GNU coreutils checks every digest.
  std::ofstream sums(home.path() / "sums");
  for (const auto& [path, entry] : manifest) {
    sums << entry["sha256"].get<std::string>() << "  " << path << "\n";
    CHECK_FALSE(entry["what"].get<std::string>().empty());
  }
  sums.close();
  const std::string check = "cd '" + out.string() + "' && sha256sum --quiet --strict -c ../../sums";
  CHECK(std::system(check.c_str()) == 0);
  CHECK_THAT(result.out, Catch::EndsWith(std::to_string(files.size()) + " files)\n"));
}

TEST_CASE("the summary on the terminal is the one in the file", "[app]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), held_project());
  const fs::path out = home.path() / "bench";
  const Run result = run({"build", file, "--out", out.string(), "--only", "report"});
  CHECK_THAT(result.out, Catch::StartsWith(bytes_of(out / "summary.txt")));
}

TEST_CASE("the option --json prints the report, and only that", "[app]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), held_project());
  const fs::path out = home.path() / "bench";
  const Run result = run({"build", file, "--out", out.string(), "--only", "report", "--json"});
  CHECK(result.code == 0);
  CHECK(result.out == bytes_of(out / "report.json"));
  CHECK(Json::parse(result.out)["inputs"][0]["path"].is_string());

  const Run wrong = run({"check", file, "--set", "rack.depth=3kg", "--json"});
  CHECK(wrong.code == 2);
  CHECK(Json::parse(wrong.out)["findings"].size() == 1);
}

TEST_CASE("the same input gives the same bytes with any number of threads, from anywhere",
          "[app][same]") {
  const TemporaryFolder home;
  const fs::path before = fs::current_path();
  const std::string file = write_project(home.path() / "a", sound_project());
  const std::string copy = write_project(home.path() / "b", sound_project());
  const fs::path one = home.path() / "out/one";
  const fs::path two = home.path() / "out/two";
  CHECK(run({"build", file, "--out", one.string(), "--jobs", "1"}).code == 0);
  fs::current_path(home.path() / "b");
  CHECK(run({"build", "project.toml", "--out", two.string(), "--jobs", "7"}).code == 0);
  fs::current_path(before);
  CHECK((tree(one) == tree(two)));
}

TEST_CASE("the option --only makes some files, carries the others over, and marks what is stale",
          "[app][only]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const std::string out = (home.path() / "bench").string();
  REQUIRE(run({"build", file, "--out", out}).code == 0);
  const auto first = tree(out);

  SECTION("nothing is stale when the inputs are the same") {
    CHECK(run({"build", file, "--out", out, "--only", "tables,report"}).code == 0);
    CHECK((tree(out) == first));
  }
  SECTION("with other inputs all but the new files are") {
    CHECK(run({"build", file, "--out", out, "--only", "tables,report", "--set", "rack.depth=450mm"})
              .code == 0);
    auto second = tree(out);
    CHECK(second["model/assembly.step"] == first.at("model/assembly.step"));
    CHECK(second["shop/cutlist.csv"] != first.at("shop/cutlist.csv"));
    const auto manifest = manifest_of(out);
    CHECK(manifest.at("model/assembly.step").value("stale", false));
    CHECK_FALSE(manifest.at("shop/cutlist.csv").contains("stale"));

    // Stale stays stale until it is made again, whatever else is built.
    CHECK(
        run({"build", file, "--out", out, "--only", "report", "--set", "rack.depth=450mm"}).code ==
        0);
    CHECK(manifest_of(out).at("model/assembly.step").value("stale", false));
    CHECK(run({"build", file, "--out", out}).code == 0);
    CHECK((tree(out) == first));
  }
  SECTION("a file of the last build that is gone cannot be carried over") {
    fs::remove(fs::path(out) / "model/assembly.glb");
    const Run result = run({"build", file, "--out", out, "--only", "report"});
    CHECK(result.code == 3);
    CHECK_THAT(result.err, Catch::Contains("assembly.glb") && Catch::Contains("without --only"));
  }
}

TEST_CASE("errors end with 1, and what is not proven too under --strict", "[app]") {
  const auto finding = [](Severity severity, Status status) {
    Finding made;
    made.severity = severity;
    made.status = status;
    return made;
  };
  const Findings warnings = {finding(Severity::warning, Status::fail),
                             finding(Severity::note, Status::pass)};
  const Findings open = {finding(Severity::warning, Status::not_proven)};
  const Findings wrong = {finding(Severity::note, Status::pass),
                          finding(Severity::error, Status::fail)};
  for (const bool strict : {false, true}) {
    CHECK(exit_code({}, strict) == ExitCode::nothing_wrong);
    CHECK(exit_code(warnings, strict) == ExitCode::nothing_wrong);
    CHECK(exit_code(wrong, strict) == ExitCode::findings);
  }
  CHECK(exit_code(open, false) == ExitCode::nothing_wrong);
  CHECK(exit_code(open, true) == ExitCode::findings);
}

TEST_CASE("a disk that fails leaves the last output whole and ends with 3", "[app][fault]") {
  struct FullDisk : FileCalls {
    ssize_t write(int, const char*, std::size_t) override {
      errno = ENOSPC;
      return -1;
    }
  } full;
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const fs::path out = home.path() / "bench";
  REQUIRE(run({"build", file, "--out", out.string(), "--only", "report"}).code == 0);
  const auto before = tree(home.path());

  const Run result =
      run({"build", file, "--out", out.string(), "--set", "rack.depth=450mm"}, &full);

  CHECK(result.code == 3);
  CHECK_THAT(result.err,
             Catch::Contains("No space left on device") && Catch::Contains("unchanged"));
  CHECK((tree(home.path()) == before));
}

TEST_CASE("a folder that cannot be made ends with 3, somebody else's with 2", "[app][fault]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const Run below = run({"build", file, "--out", file + "/bench", "--only", "report"});
  CHECK(below.code == 3);
  CHECK_THAT(below.err, Catch::Contains("Not a directory"));
  const Run foreign = run({"build", file, "--out", home.path().string(), "--only", "report"});
  CHECK(foreign.code == 2);
  CHECK_THAT(foreign.err, Catch::Contains("is not an output folder of this program"));
  CHECK(tree(home.path()).size() == 1);
}

TEST_CASE("a place that cannot be written to is refused before the work", "[app][fault]") {
  struct NoFolders : FileCalls {
    int make_folder(const char*) override {
      errno = EROFS;
      return -1;
    }
  } read_only;
  const TemporaryFolder home;
  // A clash that the checks would tell of.
  const std::string text =
      sound_project() + "[module.second]\nkind = \"rack\"\nbased_on = \"rack\"\n";
  const std::string file = write_project(home.path(), text);
  const std::string out = (home.path() / "deep" / "bench").string();
  CHECK_THAT(run({"check", file}).out, Catch::Contains("[clearance."));
  const Run refused = run({"build", file, "--out", out}, &read_only);
  CAPTURE(refused.out, refused.err);
  CHECK(refused.code == 3);
  CHECK_THAT(refused.err, Catch::Contains("Read-only file system"));
  CHECK_THAT(refused.out, !Catch::Contains("[clearance."));
  CHECK(tree(home.path()).size() == 1);
}

TEST_CASE("output that cannot be printed ends with 3", "[app][fault]") {
  std::ostringstream out;
  std::ostringstream err;
  FileCalls files;
  out.setstate(std::ios::badbit);  // as after writing to a full disk or a closed pipe
  const Surroundings world{.out = out, .err = err, .files = files};
  CHECK(static_cast<int>(run_program({"explain"}, world)) == 3);
  CHECK_THAT(err.str(), Catch::Contains("standard output"));
}

TEST_CASE("dates come from the project, else from SOURCE_DATE_EPOCH, else there are none",
          "[app][date]") {
  const TemporaryFolder home;
  const auto date_in = [&](const std::string& text, std::optional<std::string> epoch) {
    const std::string file = write_project(home.path(), text);
    std::ostringstream out;
    std::ostringstream err;
    FileCalls files;
    const Surroundings world{.out = out, .err = err, .files = files, .source_date_epoch = epoch};
    CHECK(run_program({"check", file, "--json"}, world) == ExitCode::nothing_wrong);
    const Json date = Json::parse(out.str())["project"]["date"];
    return date.is_null() ? std::string() : date.get<std::string>();
  };
  const std::string dated = replaced(sound_project(), "name = ", "date = 2026-11-24\nname = ");
  CHECK(date_in(sound_project(), std::nullopt) == "");
  // date --utc -d @1700000000 +%F of GNU coreutils says 2023-11-14.
  CHECK(date_in(sound_project(), "1700000000") == "2023-11-14");
  CHECK(date_in(sound_project(), "0") == "1970-01-01");
  CHECK(date_in(sound_project(), "1709164800") == "2024-02-29");
  CHECK(date_in(sound_project(), "yesterday") == "");
  CHECK(date_in(dated, "1700000000") == "2026-11-24");
}

TEST_CASE("colour and the progress line are for terminals", "[app][terminal]") {
  const TemporaryFolder home;
  const std::string file = write_project(home.path(), sound_project());
  const auto run_on = [&](bool terminal, bool quiet) {
    std::ostringstream out;
    std::ostringstream err;
    FileCalls files;
    const Surroundings world{
        .out = out, .err = err, .files = files, .out_colour = terminal, .err_terminal = terminal};
    std::vector<std::string> line = {"check", file, "--set", "rack.depth=3kg"};
    if (quiet) line.emplace_back("--quiet");
    run_program(line, world);
    return out.str() + err.str();
  };
  CHECK_THAT(run_on(false, false), !Catch::Contains("\x1b"));
  CHECK_THAT(run_on(true, false),
             Catch::Contains(": \x1b[1;31merror:\x1b[0m ") && Catch::Contains("] laying out"));
  CHECK_THAT(run_on(true, true), !Catch::Contains("laying out"));
}
