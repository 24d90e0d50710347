#include "run.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <sstream>

using namespace ribbay;
using Json = nlohmann::json;
namespace fs = std::filesystem;

namespace {

const std::string kMarsh = RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml";
const std::string kInMid = "project.vehicle=" RIBBAY_SOURCE_DIR "/params/vehicles/long_mid.toml";

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

void write(const fs::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

/// A build of Marsh with its tables alone.
std::string built(const TemporaryFolder& folder, const std::string& name,
                  std::vector<std::string> more = {}) {
  const std::string out = (folder.path() / name).string();
  std::vector<std::string> arguments{"build", kMarsh, "--only", "tables", "--out", out};
  arguments.insert(arguments.end(), more.begin(), more.end());
  const Run run_of = run(arguments);
  INFO(run_of.out << run_of.err);
  REQUIRE(run_of.code <= 1);
  return out;
}

}  // namespace

TEST_CASE("changes between two builds, between a build and its project, and none at all",
          "[app][changes]") {
  const TemporaryFolder folder;
  const std::string high = built(folder, "high");
  const std::string mid = built(folder, "mid", {"--set", kInMid});
  const Run same = run({"changes", high, kMarsh});
  CAPTURE(same.out, same.err);
  CHECK(same.code == 0);
  CHECK_THAT(same.out, Catch::Contains("nothing differs"));

  const Run folders = run({"changes", high, mid});
  CHECK(folders.code == 0);
  CHECK_THAT(folders.out, Catch::Contains("\nrecut from an old part ("));
  const Run now = run({"changes", high, kMarsh, "--set", kInMid});
  CHECK(now.code == 0);
  // But for the names in the first line both say the same.
  CHECK(now.out.substr(now.out.find('\n')) == folders.out.substr(folders.out.find('\n')));

  const Run json = run({"changes", high, mid, "--json"});
  CHECK(json.code == 0);
  const Json notice = Json::parse(json.out);
  CHECK(notice["before"] == high);
  CHECK(notice["after"] == mid);
  CHECK(notice["parts"].size() > 10);
  CHECK(notice["drawings"].is_null());
}

TEST_CASE("a build writes what has changed since an earlier one, also one that it replaces",
          "[app][changes]") {
  const TemporaryFolder folder;
  const std::string out = built(folder, "out");
  const std::string first = bytes_of(fs::path(out) / "shop/parts.json");
  const std::string old = built(folder, "old");
  CHECK(bytes_of(fs::path(old) / "shop/parts.json") == first);
  const Run again =
      run({"build", kMarsh, "--only", "tables", "--out", out, "--since", out, "--set", kInMid});
  CAPTURE(again.out, again.err);
  CHECK(again.code == 0);
  CHECK_THAT(again.out, Catch::Contains("parts since " + out + ", see shop/changes.html"));
  const std::string text = bytes_of(fs::path(out) / "shop/changes.txt");
  const Run notice = run({"changes", old, out});
  CHECK(text.substr(text.find('\n')) == notice.out.substr(notice.out.find('\n')));
  CHECK_THAT(bytes_of(fs::path(out) / "shop/changes.csv"), Catch::StartsWith("about,id,fate,"));
  CHECK(bytes_of(fs::path(out) / "shop/parts.json") != first);
  // Built once more without it, the notice is gone.
  REQUIRE(run({"build", kMarsh, "--out", (folder.path() / "whole").string()}).code == 0);
  CHECK_FALSE(fs::exists(folder.path() / "whole/shop/changes.txt"));
}

TEST_CASE("drawings that must be replaced are told when both builds have them", "[app][changes]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  REQUIRE(run({"build", kMarsh, "--only", "tables,drawings", "--out", out}).code == 0);
  const Run result = run({"changes", out, kMarsh, "--set", "galley.depth=510mm", "--json"});
  CAPTURE(result.err);
  REQUIRE(result.code == 0);
  const Json notice = Json::parse(result.out);
  REQUIRE(notice["drawings"].is_array());
  bool galley = false;
  for (const Json& drawing : notice["drawings"])
    galley =
        galley || (drawing["path"] == "drawings/050-galley.svg" && drawing["fate"] == "replace");
  CHECK(galley);
}

TEST_CASE("what changes cannot compare is told with what to do", "[app][changes]") {
  const TemporaryFolder folder;
  const auto refused = [](const Run& result, const std::string& code, const std::string& says) {
    CAPTURE(result.out, result.err);
    CHECK(result.code == 2);
    CHECK(result.out.empty());
    CHECK_THAT(result.err, Catch::Contains("[" + code + "]") && Catch::Contains(says));
  };
  refused(run({"changes", (folder.path() / "none").string(), kMarsh}), "changes.not_a_build",
          "neither a folder nor a project file");
  const fs::path empty = folder.path() / "empty";
  fs::create_directory(empty);
  refused(run({"changes", empty.string(), kMarsh}), "changes.no_record",
          "build that project once more");

  const std::string out = built(folder, "out");
  const fs::path parts = fs::path(out) / "shop/parts.json";
  const std::string good = bytes_of(parts);
  write(parts, good.substr(0, 1000));
  refused(run({"changes", out, kMarsh}), "changes.not_json", parts.string() + ":");
  write(parts, "{\"schema\": 99}");
  refused(run({"changes", out, kMarsh}), "changes.newer", "format 99");
  write(parts, "{\"schema\": 1}");
  refused(run({"changes", kMarsh, out}), "changes.damaged", "/project");
  fs::remove(parts);
  refused(run({"changes", out, kMarsh}), "changes.no_record", "shop/parts.json");
  write(parts, good);
  refused(run({"changes", kMarsh, out, "--set", "galley.depth=510mm"}), "changes.settings",
          "--set");
  write(fs::path(out) / "manifest.json", "[]");
  refused(run({"changes", out, kMarsh}), "output.manifest", "manifest.json");

  // A record that another van's drawings lie beside.
  const std::string mixed = built(folder, "mixed");
  REQUIRE(run({"build", kMarsh, "--only", "report", "--out", mixed, "--set", kInMid}).code == 0);
  refused(run({"changes", mixed, kMarsh}), "changes.stale", "without --only");

  const fs::path wrong = folder.path() / "wrong.toml";
  write(wrong, "format = 1\n[project\n");
  const Run project = run({"changes", wrong.string(), kMarsh});
  CHECK(project.code == 2);
  CHECK_THAT(project.err, Catch::Contains("wrong.toml:2:"));

  const Run since = run({"build", kMarsh, "--only", "tables", "--out",
                         (folder.path() / "new").string(), "--since", empty.string()});
  CHECK(since.code == 2);
  // Told before anything is laid out: nothing else is said.
  CHECK(since.out.empty());
  CHECK_THAT(since.err, Catch::StartsWith("error: ") && Catch::Contains("[changes.no_record]") &&
                            !Catch::Contains("took "));
  CHECK_FALSE(fs::exists(folder.path() / "new"));
  CHECK(run({"changes", kMarsh}).code == 2);
}

TEST_CASE("a new date of issue replaces no drawing", "[app][changes]") {
  const TemporaryFolder folder;
  const std::string out = (folder.path() / "out").string();
  REQUIRE(run({"build", kMarsh, "--only", "tables,drawings", "--out", out}).code == 0);
  const Run later = run({"changes", out, kMarsh, "--set", "project.date=2027-01-31"});
  CAPTURE(later.err);
  CHECK_THAT(later.out, Catch::Contains("nothing differs"));
  // The files themselves are others: they carry the date.
  const std::string again = (folder.path() / "again").string();
  REQUIRE(run({"build", kMarsh, "--only", "tables,drawings", "--out", again, "--set",
               "project.date=2027-01-31"}).code == 0);
  CHECK(bytes_of(fs::path(out) / "drawings/020-rack.svg") !=
        bytes_of(fs::path(again) / "drawings/020-rack.svg"));
  CHECK_THAT(run({"changes", out, again}).out, Catch::Contains("nothing differs"));
  // A title is no date.
  const Run other = run({"changes", out, kMarsh, "--set", "project.title=Other"});
  CHECK_THAT(other.out, Catch::Contains("replace    drawings/020-rack.svg"));
}

TEST_CASE("changes writes a notice to print, with a box for each thing to do", "[app][changes]") {
  const TemporaryFolder folder;
  const std::string high = built(folder, "high");
  const std::string out = (folder.path() / "notice").string();
  const Run result = run({"changes", high, kMarsh, "--set", kInMid, "--out", out});
  CAPTURE(result.err);
  REQUIRE(result.code == 0);
  CHECK_THAT(result.out, Catch::Contains("files     " + out + " (4 files)"));
  const std::string page = bytes_of(fs::path(out) / "changes.html");
  const std::string text = bytes_of(fs::path(out) / "changes.txt");
  CHECK(result.out.starts_with(text));
  const Json notice = Json::parse(run({"changes", high, kMarsh, "--set", kInMid, "--json"}).out);
  std::size_t boxes = 0;
  for (std::size_t at = page.find("<li>"); at != std::string::npos; at = page.find("<li>", at + 1))
    ++boxes;
  CHECK(boxes == notice["parts"].size() + notice["stock"].size() + notice["bought"].size());
  for (const Json& part : notice["parts"])
    CHECK_THAT(page, Catch::Contains(part["id"].get<std::string>()));
  CHECK_THAT(page, Catch::Contains("recut from an old part") &&
                       Catch::Contains("Drawings were not compared") && !Catch::Contains("http"));
  // Its own folder is written again, another command's is left alone.
  CHECK(run({"changes", high, kMarsh, "--out", out}).code == 0);
  CHECK(run({"changes", high, kMarsh, "--out", high}).code == 2);
}

TEST_CASE("the drilling list, the quote and the record of parts count the same holes", "[app][changes]") {
  const TemporaryFolder folder;
  const std::string out = built(folder, "holes");
  const Json record = Json::parse(bytes_of(fs::path(out) / "shop/parts.json"));
  std::map<std::string, std::size_t> by_mark;
  std::size_t recorded = 0;
  for (const Json& part : record["parts"]) {
    recorded += part["holes"].size();
    by_mark[part["mark"]] += part["holes"].size();
  }
  std::size_t drilled = 0;
  std::map<std::string, std::size_t> rows;
  std::istringstream lines(bytes_of(fs::path(out) / "shop/drilling.csv"));
  std::string line;
  std::getline(lines, line);
  REQUIRE(line.starts_with("mark,title,stock,count,face,"));
  while (std::getline(lines, line)) {
    const auto quoted = line.find('"');  // titles may hold commas
    if (quoted != std::string::npos) line.erase(quoted, line.find('"', quoted + 1) + 1 - quoted);
    std::istringstream fields(line);
    std::string mark;
    std::string skipped;
    std::string count;
    std::getline(fields, mark, ',');
    std::getline(fields, skipped, ',');
    std::getline(fields, skipped, ',');
    std::getline(fields, count, ',');
    drilled += std::stoul(count);
    rows[mark] += std::stoul(count);
  }
  for (const auto& [mark, holes] : by_mark) {
    CAPTURE(mark);
    CHECK((holes == 0 ? !rows.contains(mark) : rows[mark] == holes));
  }
  CHECK(drilled == recorded);
  CHECK(drilled > 500);
  CHECK_THAT(bytes_of(fs::path(out) / "shop/work.csv"),
             Catch::Contains("Holes," + std::to_string(drilled) + ","));
}
