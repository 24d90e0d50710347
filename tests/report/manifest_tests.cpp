#include "report/manifest.hpp"
#include "report/sha256.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace ribbay;

TEST_CASE("the manifest lists every file with its digest, sorted, and reads back",
          "[report][manifest]") {
  Manifest manifest{.made_from = "digest of the inputs", .files = {}};
  manifest.files.push_back(manifest_entry({"shop/cutlist.csv", "a,b\r\n", "cut list"}));
  manifest.files.push_back(manifest_entry({"model/assembly.step", "ISO-10303-21;", "everything"}));
  manifest.files[0].stale = true;
  manifest.files[1].undated = sha256("without its date");

  const OutputFile file = manifest_file(manifest);

  CHECK(file.path == "manifest.json");
  const auto json = nlohmann::json::parse(file.bytes);
  REQUIRE(json["files"].size() == 2);
  CHECK(json["files"][0]["path"] == "model/assembly.step");
  CHECK(json["files"][0]["sha256"] == sha256("ISO-10303-21;"));
  CHECK_FALSE(json["files"][0].contains("stale"));
  CHECK(json["files"][0]["undated_sha256"] == sha256("without its date"));
  CHECK(json["files"][1]["stale"] == true);
  CHECK_FALSE(json["files"][1].contains("undated_sha256"));

  std::swap(manifest.files[0], manifest.files[1]);
  const auto read = read_manifest(file.bytes);
  REQUIRE(read);
  CHECK(*read == manifest);
}

TEST_CASE("what is no manifest of ours is refused", "[report][manifest]") {
  struct Row {
    const char* name;
    const char* bytes;
  };
  const auto row = GENERATE(values<Row>({
      {"nothing", ""},
      {"not JSON", "files: 3"},
      {"an array", "[1, 2]"},
      {"another program's", R"({"name": "an app", "icons": []})"},
      {"files of another type", R"({"schema": 1, "made_from": "", "files": [3]})"},
      {"a newer format", R"({"schema": 2, "made_from": "", "files": []})"},
      {"an absolute path",
       R"({"schema":1,"made_from":"","files":[{"path":"/etc/x","sha256":"","what":""}]})"},
      {"a path upwards",
       R"({"schema":1,"made_from":"","files":[{"path":"../x","sha256":"","what":""}]})"},
      {"a hidden way up",
       R"({"schema":1,"made_from":"","files":[{"path":"a/../../x","sha256":"","what":""}]})"},
      {"an empty path",
       R"({"schema":1,"made_from":"","files":[{"path":"","sha256":"","what":""}]})"},
  }));
  CAPTURE(row.name);
  const auto read = read_manifest(row.bytes);
  REQUIRE_FALSE(read);
  CHECK(read.error()[0].code == "output.manifest");
}
