#include "app/program.hpp"

#include "changes_command.hpp"
#include "command_line.hpp"
#include "cut_command.hpp"
#include "explain.hpp"
#include "flow.hpp"
#include "new_project.hpp"
#include "size_command.hpp"
#include "survey_command.hpp"
#include "vans_command.hpp"

#include <algorithm>
#include <exception>

namespace ribbay {

namespace {

using namespace detail;

ExitCode run(const std::vector<std::string>& arguments, const Surroundings& world) {
  const auto line = read_command_line(arguments);
  if (const auto* reply = std::get_if<Reply>(&line)) {
    (reply->wrong ? world.err : world.out) << reply->text;
    return reply->wrong ? ExitCode::wrong_input : ExitCode::nothing_wrong;
  }
  const auto& command = std::get<Command>(line);
  switch (command.verb) {
    case Verb::explain:
      return run_explain(command, world);
    case Verb::make_new:
      return run_new(command, world);
    case Verb::survey:
      return run_survey(command, world);
    case Verb::cut:
      return run_cut(command, world);
    case Verb::size:
      return run_size(command, world);
    case Verb::vans:
      return run_vans(command, world);
    case Verb::changes:
      return run_changes(command, world);
    case Verb::build:
    case Verb::check:
      break;
  }
  return run_flow(command, world);
}

}  // namespace

ExitCode exit_code(const Findings& findings, bool strict) {
  const bool open = std::ranges::any_of(
      findings, [](const Finding& f) { return f.status == Status::not_proven; });
  return has_errors(findings) || (strict && open) ? ExitCode::findings : ExitCode::nothing_wrong;
}

ExitCode run_program(const std::vector<std::string>& arguments, const Surroundings& world) {
  ExitCode code = ExitCode::machine_failed;
  try {
    code = run(arguments, world);
    world.out.flush();
  } catch (const std::exception& error) {  // out of memory, a fault of ours
    world.err << "ribbay: internal fault: " << error.what() << "\n";
    return ExitCode::machine_failed;
  }
  if (!world.out) {
    world.err << "ribbay: cannot write to standard output\n";
    return ExitCode::machine_failed;
  }
  return code;
}

}  // namespace ribbay
