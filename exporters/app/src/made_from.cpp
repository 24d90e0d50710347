#include "made_from.hpp"

#include "report/sha256.hpp"

#include <filesystem>
#include <map>

namespace ribbay::detail {

namespace fs = std::filesystem;

std::string path_from_project(const std::string& path, const std::string& project_file) {
  if (path.starts_with("--")) return path;
  std::error_code error;
  const fs::path folder = fs::absolute(project_file, error).lexically_normal().parent_path();
  const fs::path file = fs::absolute(path, error).lexically_normal();
  return error ? path : file.lexically_relative(folder).generic_string();
}

std::vector<InputDigest> input_digests(const Inputs& inputs, const std::string& project_file) {
  std::map<std::string, std::string> digests;
  for (const Document* document : {&inputs.project, &inputs.vehicle}) {
    for (const InputFile& file : document->inputs) {
      digests.emplace(path_from_project(file.path, project_file), sha256(file.bytes));
    }
  }
  std::vector<InputDigest> list;
  for (const auto& [path, digest] : digests) list.push_back({path, digest});
  return list;
}

std::string made_from(const Report& report, const std::string& date) {
  // Lengths keep two lists apart that would read the same when strung together.
  std::string all = "ribbay " RIBBAY_VERSION;
  const auto add = [&all](const std::string& text) {
    all += "\n" + std::to_string(text.size()) + " " + text;
  };
  for (const InputDigest& input : report.inputs) {
    add(input.path);
    add(input.sha256);
  }
  for (const std::string& setting : report.settings) add(setting);
  add(date);
  return sha256(all);
}

}  // namespace ribbay::detail
