#include "report/manifest.hpp"

#include "report/sha256.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>

namespace ribbay {

namespace {

using Json = nlohmann::ordered_json;

/// The format version of manifest.json.
constexpr int kSchema = 1;

tl::unexpected<Findings> not_ours(std::string why) {
  Finding finding;
  finding.code = "output.manifest";
  finding.subjects = {std::string(kManifestPath)};
  return fail(std::move(finding).with("why", std::move(why)));
}

/// A hand-made manifest must not make us read or write outside the folder.
bool stays_inside(const std::string& path) {
  const std::filesystem::path p(path);
  return !path.empty() && p.is_relative() && p == p.lexically_normal() && *p.begin() != "..";
}

}  // namespace

ManifestEntry manifest_entry(const OutputFile& file) {
  return {file.path, sha256(file.bytes), file.what, false};
}

OutputFile manifest_file(Manifest manifest) {
  std::ranges::sort(manifest.files, {}, &ManifestEntry::path);
  Json json = {{"schema", kSchema},
               {"command", manifest.command},
               {"made_from", manifest.made_from},
               {"files", Json::array()}};
  for (const ManifestEntry& file : manifest.files) {
    Json entry = {{"path", file.path}, {"sha256", file.sha256}, {"what", file.what}};
    if (file.stale) entry["stale"] = true;
    if (!file.undated.empty()) entry["undated_sha256"] = file.undated;
    json["files"].push_back(std::move(entry));
  }
  return {std::string(kManifestPath),
          json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n", "this list"};
}

Result<Manifest> read_manifest(std::string_view bytes) {
  try {
    const Json json = Json::parse(bytes);
    if (json.at("schema").get<int>() > kSchema)
      return not_ours("it was written by a newer version");
    Manifest manifest;
    manifest.made_from = json.at("made_from").get<std::string>();
    manifest.command = json.value("command", manifest.command);
    for (const Json& entry : json.at("files")) {
      const ManifestEntry file{entry.at("path").get<std::string>(),
                               entry.at("sha256").get<std::string>(),
                               entry.at("what").get<std::string>(), entry.value("stale", false),
                               entry.value("undated_sha256", std::string())};
      if (!stays_inside(file.path)) return not_ours("it names the path \"" + file.path + "\"");
      manifest.files.push_back(file);
    }
    return manifest;
  } catch (const nlohmann::json::exception&) {
    return not_ours("it is not a manifest of ours");
  }
}

}  // namespace ribbay
