#include "changes_command.hpp"

#include "base/messages.hpp"
#include "called_gaps.hpp"
#include "console.hpp"
#include "cutplans/cut_pages.hpp"
#include "dates.hpp"
#include "drawings/steps.hpp"
#include "drawings/undated.hpp"
#include "report/manifest.hpp"
#include "report/sha256.hpp"
#include "trial.hpp"
#include "write_folder.hpp"

#include <algorithm>
#include <filesystem>

namespace ribbay::detail {

namespace {

namespace fs = std::filesystem;

constexpr const char* kMaker = "changes";  ///< of the notice, as its manifest names it

Finding about(const char* code, const std::string& name) {
  Finding finding;
  finding.code = code;
  finding.subjects = {name};
  return finding;
}

/// Of the drawings that the manifest lists; nullopt when there are none, or some are older than
/// the rest.
std::optional<std::vector<DrawingDigest>> drawings_in(const Manifest& manifest) {
  std::vector<DrawingDigest> drawings;
  for (const ManifestEntry& file : manifest.files) {
    if (file.undated.empty()) continue;
    if (file.stale) return std::nullopt;
    drawings.push_back({file.path, file.undated});
  }
  if (drawings.empty()) return std::nullopt;
  std::ranges::sort(drawings, {}, &DrawingDigest::path);
  return drawings;
}

/// A project as it would be built now, or all that is wrong with it.
Result<BuildRecord> lay_out_now(const std::string& file, const std::vector<std::string>& settings,
                                const Command& command, const Surroundings& world) {
  const int jobs = command.jobs.value_or(std::max(world.cores, 1));
  Memo memo;
  Trial trial = try_project(file, settings, read_file, jobs, Advice::left_out, memo);
  if (!trial.layout) return fail(std::move(trial.findings));
  if (trial.layout->project.date.empty())
    trial.layout->project.date = date_of(world.source_date_epoch);
  const DrawingOptions options{.not_for_cutting = has_errors(trial.findings),
                               .gaps = called_gaps(judge(*trial.layout, jobs))};
  std::vector<SetPage> pages = drawing_set(*trial.layout, options);
  std::ranges::move(step_pages(*trial.layout, plan_assembly(*trial.layout), options),
                    std::back_inserter(pages));
  std::ranges::move(cut_pages(*trial.layout, plan_cuts(*trial.layout), options),
                    std::back_inserter(pages));
  std::string name = file;
  for (const std::string& setting : settings) name += " with " + setting;
  return BuildRecord{name, record_parts(*trial.layout), drawing_digests(pages, trial.layout->project.date)};
}

/// Settings change the new side, which then must be a project.
Result<BuildRecord> read_side(const std::string& name, const std::vector<std::string>& settings,
                              const Command& command, const Surroundings& world) {
  std::error_code error;
  if (fs::is_regular_file(name, error)) return lay_out_now(name, settings, command, world);
  if (!settings.empty()) return fail(about("changes.settings", name));
  return read_build(name);
}

}  // namespace

std::optional<std::vector<DrawingDigest>> drawing_digests(const std::vector<SetPage>& pages,
                                                          const std::string& date) {
  std::vector<DrawingDigest> drawings;
  for (const SetPage& page : pages)
    drawings.push_back({page.path, sha256(svg(undated(page.drawing, date)))});
  if (drawings.empty()) return std::nullopt;
  std::ranges::sort(drawings, {}, &DrawingDigest::path);
  return drawings;
}

Result<BuildRecord> read_build(const std::string& folder) {
  std::error_code error;
  if (!fs::is_directory(folder, error)) return fail(about("changes.not_a_build", folder));
  const auto manifest_bytes = read_file((fs::path(folder) / kManifestPath).string());
  if (!manifest_bytes) return fail(about("changes.no_record", folder));
  const auto manifest = read_manifest(*manifest_bytes);
  if (!manifest) return fail(manifest.error());
  const auto entry = std::ranges::find(manifest->files, kPartsPath, &ManifestEntry::path);
  if (entry == manifest->files.end()) return fail(about("changes.no_record", folder));
  if (entry->stale) return fail(about("changes.stale", folder));
  const std::string path = (fs::path(folder) / kPartsPath).string();
  const auto bytes = read_file(path);
  if (!bytes) return fail(about("changes.no_record", folder));
  auto parts = read_parts(*bytes, path);
  if (!parts) return fail(parts.error());
  return BuildRecord{folder, std::move(*parts), drawings_in(*manifest)};
}

ExitCode run_changes(const Command& command, const Surroundings& world) {
  std::vector<BuildRecord> sides;
  for (const std::string& name : command.words) {
    const std::vector<std::string> none;
    Result<BuildRecord> side =
        read_side(name, sides.empty() ? none : command.settings, command, world);
    if (!side) {
      for (const Finding& finding : side.error()) {
        const std::string text = finding_text(finding, LengthStyle::millimetres) + "\n";
        world.err << (world.out_colour ? coloured(text) : text);
      }
      return ExitCode::wrong_input;
    }
    sides.push_back(std::move(*side));
  }
  const ChangeNotice notice = compare_builds(sides.front(), sides.back());
  world.out << (command.json ? changes_json(notice) : changes_text(notice));
  if (command.out.empty()) return ExitCode::nothing_wrong;
  return write_folder(command.out, kMaker, changes_files(notice, ""), notice.show, world);
}

}  // namespace ribbay::detail
