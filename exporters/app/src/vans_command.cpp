#include "vans_command.hpp"

#include "base/messages.hpp"
#include "base/parallel.hpp"
#include "console.hpp"
#include "trial.hpp"
#include "vans/vans.hpp"
#include "write_folder.hpp"

#include <algorithm>
#include <filesystem>

namespace ribbay::detail {

namespace {

namespace fs = std::filesystem;

constexpr const char* kMaker = "vans";  ///< of the tables, as their manifest names it

bool same_file(const std::string& a, const std::string& b) {
  if (a == b) return true;
  std::error_code error;
  const fs::path first = fs::weakly_canonical(a, error);
  if (error) return false;
  const fs::path second = fs::weakly_canonical(b, error);
  return !error && first == second;
}

/// As a TOML file would say it: any name of a file, also "5" or "[x].toml".
std::string in_quotes(const std::string& text) {
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') quoted += '\\';
    quoted += c;
  }
  return quoted + "\"";
}

/// What the project's own files say.
struct Project {
  std::string name;
  std::string title;
  std::string vehicle;  ///< the path of its file; empty: none is named
  LengthStyle show = LengthStyle::millimetres;
};

std::string text_in(const Document& document, const char* key) {
  const Node* project = document.root.find("project");
  const Node* node = project == nullptr ? nullptr : project->find(key);
  return node == nullptr || node->text() == nullptr ? "" : *node->text();
}

Project project_of(const Document& document, const std::string& file) {
  Project project{text_in(document, "name"), text_in(document, "title"),
                  text_in(document, "vehicle"), LengthStyle::millimetres};
  if (project.name.empty()) project.name = fs::path(file).stem().string();
  if (project.title.empty()) project.title = project.name;
  if (text_in(document, "show") == "in") project.show = LengthStyle::inches;
  if (!project.vehicle.empty()) {
    const Node* vehicle = document.root.find("project")->find("vehicle");
    project.vehicle = path_beside(vehicle->place, project.vehicle);
  }
  return project;
}

/// The vans in order, each once: the project's own first.
std::vector<VanRun> vans_of(const Project& project, const std::vector<std::string>& named) {
  std::vector<std::string> files;
  if (!project.vehicle.empty()) files.push_back(project.vehicle);
  for (const std::string& file : named) {
    const bool known = std::ranges::any_of(
        files, [&](const std::string& other) { return same_file(file, other); });
    if (!known) files.push_back(file);
  }
  std::vector<VanRun> vans;
  for (const std::string& file : files) {
    const std::string stem = fs::path(file).stem().string();
    const auto alike = std::ranges::count_if(
        files, [&](const std::string& other) { return fs::path(other).stem() == stem; });
    vans.push_back({alike > 1 ? file : stem, file, {}, {}});
  }
  return vans;
}

/// What is wrong with a vehicle file that the command line names stands there, not in a setting of
/// ours.
void place_in_vehicle(Findings& findings, const std::string& file, std::size_t settings) {
  for (Finding& finding : findings) {
    if (finding.place && finding.place->file == "--set" &&
        finding.place->line > static_cast<int>(settings)) {
      finding.place = Place{file, 0, 0, {}};
    }
  }
}

void run_van(const Command& command, VanRun& van, Memo& memo) {
  std::vector<std::string> settings = command.settings;
  settings.push_back("project.vehicle=" + in_quotes(van.file));
  Trial trial = try_project(command.file, settings, read_file, 1, Advice::confirmed, memo);
  van.layout = std::move(trial.layout);
  van.findings = std::move(trial.findings);
  place_in_vehicle(van.findings, van.file, command.settings.size());
}

ExitCode code_of(const std::vector<VanRun>& vans, bool strict) {
  ExitCode code = ExitCode::nothing_wrong;
  for (const VanRun& van : vans) {
    if (!van.layout) return ExitCode::wrong_input;
    if (exit_code(van.findings, strict) != ExitCode::nothing_wrong) code = ExitCode::findings;
  }
  return code;
}

}  // namespace

ExitCode run_vans(const Command& command, const Surroundings& world) {
  const Built<Document> document = load_document(command.file, command.settings);
  const Project project = project_of(document.value, command.file);
  if (has_errors(document.findings)) {
    Findings findings = document.findings;
    sort_findings(findings);
    for (const Finding& finding : findings) {
      const std::string text = finding_text(finding, project.show) + "\n";
      world.out << (world.out_colour ? coloured(text) : text);
    }
    return ExitCode::wrong_input;
  }
  VanComparison comparison{project.name, project.title, command.file, project.show,
                           vans_of(project, command.vehicles)};
  const int jobs = command.jobs.value_or(std::max(world.cores, 1));
  Memo memo;
  for_each_slot(comparison.vans.size(), jobs,
                [&](std::size_t v) { run_van(command, comparison.vans[v], memo); });
  const std::string page = vans_text(comparison);
  world.out << (world.out_colour ? coloured(page) : page);
  if (!command.out.empty()) {
    const ExitCode written =
        write_folder(command.out, kMaker, vans_files(comparison), comparison.show, world);
    if (written != ExitCode::nothing_wrong) return written;
  }
  return code_of(comparison.vans, command.strict);
}

}  // namespace ribbay::detail
