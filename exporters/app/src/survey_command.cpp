#include "survey_command.hpp"

#include "app/publish.hpp"
#include "base/messages.hpp"
#include "console.hpp"
#include "survey/survey_form.hpp"
#include "vehicle/survey.hpp"
#include "vehicle/vehicle.hpp"

#include <algorithm>
#include <filesystem>
#include <system_error>

namespace ribbay::detail {

namespace {

constexpr const char* kFolder = "survey";

LengthStyle style_of(const Command& command) {
  return command.unit == "in" ? LengthStyle::inches : LengthStyle::millimetres;
}

void say(const Findings& findings, LengthStyle show, const Surroundings& world) {
  for (const Finding& finding : findings) {
    const std::string text = finding_text(finding, show) + "\n";
    world.out << (world.out_colour ? coloured(text) : text);
  }
}

/// Errors go where nothing is mistaken for a result.
ExitCode complain(const Findings& findings, ExitCode code, const Surroundings& world) {
  for (const Finding& finding : findings)
    world.err << "ribbay: " << finding_text(finding, LengthStyle::millimetres) << "\n";
  return code;
}

bool form_is_there(const std::string& folder) {
  std::error_code error;
  return std::filesystem::exists(std::filesystem::path(folder) / "survey.toml", error);
}

ExitCode write_form(const Command& command, const Surroundings& world) {
  SurveyOptions options;
  options.paper = command.paper == "Letter" ? Paper::letter : Paper::a4;
  options.stations = command.stations;
  options.heights = command.heights;
  options.unit = style_of(command);
  const std::string name = command.out.empty() ? kFolder : command.out;
  // A form that is there may have been filled in already, so nothing is written over.
  const Result<OutputFolder> folder = find_output(name, "survey", world.files);
  if (!folder && form_is_there(name)) {
    Finding there;
    there.code = "survey.form_there";
    there.severity = Severity::error;
    there.subjects.push_back(name);
    return complain({there}, ExitCode::wrong_input, world);
  }
  if (!folder) {
    return complain(
        folder.error(),
        is_wrong_folder(folder.error()) ? ExitCode::wrong_input : ExitCode::machine_failed, world);
  }
  const Result<OutputFiles> files = survey_files(options);
  if (!files) return complain(files.error(), ExitCode::machine_failed, world);
  const Findings faults = publish(*files, *folder, world.files);
  complain(faults, ExitCode::machine_failed, world);
  if (has_errors(faults)) return ExitCode::machine_failed;
  world.out << "print     " << name << "/form.pdf (" << files->size() - 2 << " pages, "
            << (options.paper == Paper::a4 ? "A4" : "Letter") << ", at full size)\n"
            << "fill in   " << name << "/survey.toml\n"
            << "next      ribbay survey " << name << "/survey.toml\n";
  return ExitCode::nothing_wrong;
}

ExitCode check_file(const Command& command, const Surroundings& world) {
  const LengthStyle show = style_of(command);
  const auto wrong = [&](Findings findings) {
    sort_findings(findings);
    say(findings, show, world);
    return ExitCode::wrong_input;
  };
  const Built<Document> document = load_document(command.file, command.settings);
  if (has_errors(document.findings)) return wrong(document.findings);
  // Before anything else: an empty text is no number, and one blank after the other would be told
  // as a mistake of its own.
  if (Findings blanks = empty_blanks(document.value); !blanks.empty()) return wrong(blanks);
  const Result<Vehicle> vehicle = read_vehicle(document.value);
  if (!vehicle) {
    // A slip in a wall makes mistakes of all that is checked against the wall: the cause comes
    // first.
    say(check_stations_alone(document.value), show, world);
    return wrong(vehicle.error());
  }
  const Findings doubts = check_survey(*vehicle, document.value);
  say(doubts, show, world);
  std::size_t readings = 0;
  for (const Station& s : vehicle->stations)
    readings += s.left.size() + s.right.size() + s.full.size();
  world.out << vehicle->stations.size() << " stations, " << readings << " widths, "
            << vehicle->diagonals.size() << " diagonals: "
            << (doubts.empty() ? "nothing doubtful"
                               : std::to_string(doubts.size()) + " to measure again")
            << "\n";
  return exit_code(doubts, false);
}

}  // namespace

ExitCode run_survey(const Command& command, const Surroundings& world) {
  return command.file.empty() ? write_form(command, world) : check_file(command, world);
}

}  // namespace ribbay::detail
