#include "explain.hpp"

#include "base/messages.hpp"
#include "kind_page.hpp"
#include "reference/origin_page.hpp"
#include "reference/reference.hpp"
#include "reference/stock_page.hpp"
#include "words_file.hpp"

#include <algorithm>
#include <filesystem>
#include <sstream>

namespace ribbay::detail {

namespace {

namespace fs = std::filesystem;

/// What the command line asks about.
struct Question {
  std::string what;  ///< a kind or a value
  std::string file;  ///< a project file; empty: none named
};

/// The word that ends like a project file is the file, wherever it stands.
Question question_of(const std::array<std::string, 2>& words) {
  const auto& [first, second] = words;
  return first.ends_with(".toml") ? Question{second, first} : Question{first, second};
}

/// True when the file has a [project] table of its own.
bool is_project(const fs::path& path) {
  const Result<std::string> bytes = read_file(path.string());
  if (!bytes) return false;
  const std::vector<std::string> lines = split(*bytes, '\n');
  return std::ranges::any_of(lines,
                             [](const std::string& line) { return line.starts_with("[project]"); });
}

std::vector<std::string> projects_here() {
  std::vector<std::string> found;
  std::error_code error;
  fs::directory_iterator entry(".", error);
  for (const fs::directory_iterator end; !error && entry != end; entry.increment(error)) {
    const fs::path name = entry->path().filename();
    if (name.extension() == ".toml" && is_project(name)) found.push_back(name.string());
  }
  std::ranges::sort(found);
  return found;
}

LengthStyle style_of(const Inputs& inputs) {
  const Node* project = inputs.project.root.find("project");
  const Node* show = project == nullptr ? nullptr : project->find("show");
  const bool inches = show != nullptr && show->text() != nullptr && *show->text() == "in";
  return inches ? LengthStyle::inches : LengthStyle::millimetres;
}

ExitCode say(Findings findings, const Surroundings& world) {
  sort_findings(findings);
  for (const Finding& finding : findings) {
    world.err << finding_text(finding, LengthStyle::millimetres) << "\n";
  }
  return has_errors(findings) ? ExitCode::wrong_input : ExitCode::nothing_wrong;
}

/// What stands before the origin of an equipment: what somebody who plans with it wants to know.
std::string equipment_words(const Inputs& inputs, const Catalogue& catalogue,
                            const std::string& name) {
  constexpr std::string_view kEquipment = "equipment.";
  if (!name.starts_with(kEquipment)) return {};
  const auto item = catalogue.equipment.find(name.substr(kEquipment.size()));
  return item == catalogue.equipment.end() ? std::string()
                                           : equipment_page(item->second, style_of(inputs));
}

/// Every fault comes with what to do about it.
void mend_unknown(Findings& findings, const std::string& name) {
  for (Finding& finding : findings) {
    const bool unknown =
        finding.code == "expression.unknown_name" && finding.subjects.front() == name;
    if (unknown && finding.argument("nearest") == nullptr) finding.code = "explain.unknown";
  }
}

ExitCode explain_in(const std::string& file, const std::string& name, const Command& command,
                    const Surroundings& world) {
  Findings findings;
  const auto inputs = take(read_inputs(file, command.settings), findings);
  if (!inputs) return say(std::move(findings), world);
  const Catalogue catalogue = read_catalogue(inputs->project).value;
  const std::string table = command.json ? std::string() : stock_page(catalogue, name);
  if (!table.empty()) {
    world.out << table;
    return say(std::move(findings), world);
  }
  auto told = explain_value(*inputs, name);
  const std::string purpose =
      told.value || command.json ? std::string() : purpose_page(catalogue, name);
  if (!purpose.empty()) {
    world.out << purpose;
    return say(std::move(findings), world);
  }
  const auto origin = take(std::move(told), findings);
  mend_unknown(findings, name);
  if (!origin) return say(std::move(findings), world);
  world.out << (command.json ? origin_json(*origin)
                             : equipment_words(*inputs, catalogue, name) +
                                   origin_page(*origin, style_of(*inputs)));
  return say(std::move(findings), world);
}

Finding about(std::string code, const std::string& what) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects = {what};
  return finding;
}

/// The value in the project of this folder, when there is just one.
ExitCode explain_here(const std::string& name, const Command& command, const Surroundings& world) {
  const std::vector<std::string> projects = projects_here();
  if (projects.size() == 1) return explain_in(projects.front(), name, command, world);
  if (!projects.empty()) {
    return say({about("explain.which_project", name).with("found", join(projects, ", "))}, world);
  }
  if (name.find('.') != std::string::npos) return say({about("explain.no_project", name)}, world);
  world.err << unknown_kind(name);
  return ExitCode::wrong_input;
}

}  // namespace

ExitCode run_explain(const Command& command, const Surroundings& world) {
  const Question question = question_of(command.words);
  std::optional<std::string> page;
  if (command.to_translate) page = english_words_file();
  if (command.markdown) page = reference_markdown();
  if (command.json_schema == "project") page = project_json_schema();
  if (command.json_schema == "vehicle") page = vehicle_json_schema();
  if (!page && question.file.empty()) {
    page = question.what.empty() ? list_of_kinds() : kind_page(question.what);
  }
  if (page) {
    if (command.json || !command.settings.empty()) {
      world.err << "ribbay: --json and --set go with a value of a project, such as rack.width\n";
      return ExitCode::wrong_input;
    }
    world.out << *page;
    return ExitCode::nothing_wrong;
  }
  if (question.what.empty()) return say({about("explain.no_value", question.file)}, world);
  if (question.file.empty()) return explain_here(question.what, command, world);
  return explain_in(question.file, question.what, command, world);
}

}  // namespace ribbay::detail
