#include "new_project.hpp"

#include "app/publish.hpp"
#include "base/messages.hpp"
#include "spec/names.hpp"
#include "starter/starter.hpp"

#include <filesystem>

namespace ribbay::detail {

namespace {

namespace fs = std::filesystem;

ExitCode say(const Finding& finding, ExitCode code, const Surroundings& world) {
  world.err << "ribbay: " << finding_text(finding, LengthStyle::millimetres) << "\n";
  return code;
}

Finding about(std::string code, const std::string& name) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects = {name};
  return finding;
}

ExitCode bad_name(const std::string& name, const Surroundings& world) {
  Finding finding = about("new.bad_name", name);
  const std::string mended = mended_name(name);
  if (!mended.empty()) finding.with("mended", mended);
  return say(finding, ExitCode::wrong_input, world);
}

/// Something stands there, be it a link that leads nowhere.
bool is_taken(const std::string& name) {
  std::error_code error;
  return fs::symlink_status(name, error).type() != fs::file_type::not_found;
}

}  // namespace

ExitCode run_new(const Command& command, const Surroundings& world) {
  const std::string& name = command.name;
  if (!is_name(name)) return bad_name(name, world);
  if (is_taken(name)) return say(about("new.exists", name), ExitCode::wrong_input, world);
  const Result<OutputFolder> folder = find_output(name, "new", world.files);
  if (!folder) return say(folder.error().front(), ExitCode::machine_failed, world);

  StarterOptions options{.name = name};
  if (!command.vehicle.empty()) options.vehicle = command.vehicle;
  if (command.unit == "in") options.unit = LengthStyle::inches;
  const OutputFiles files = starter_project(options);
  for (const Finding& fault : publish(files, *folder, world.files)) {
    say(fault, ExitCode::machine_failed, world);
    if (fault.severity == Severity::error) return ExitCode::machine_failed;
  }
  const std::string project = name + "/" + name + ".toml";
  world.out << "wrote     " << name << "/ (" << files.size() << " files); begin with " << project
            << "\nnext      ribbay build " << project << "\n";
  return ExitCode::nothing_wrong;
}

}  // namespace ribbay::detail
