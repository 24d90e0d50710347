#include "size_command.hpp"

#include "base/messages.hpp"
#include "base/parallel.hpp"
#include "console.hpp"
#include "reread.hpp"
#include "size_input.hpp"
#include "size_page.hpp"
#include "trial.hpp"

#include <algorithm>
#include <set>

namespace ribbay::detail {

namespace {

/// Whether a word of --check speaks of the finding: its code or the beginning of it, a module, a
/// part, a drawer or door.
bool speaks_of(const std::string& word, const Finding& finding) {
  if (finding.code == word || finding.code.starts_with(word + ".")) return true;
  const auto named = [&](const std::string& subject) {
    return subject == word || subject.starts_with(word + "/") || subject.starts_with(word + ".");
  };
  if (std::ranges::any_of(finding.subjects, named)) return true;
  const Argument* motion = finding.argument("motion");
  const auto* name = motion == nullptr ? nullptr : std::get_if<std::string>(&motion->value);
  return name != nullptr && *name == word;
}

/// The errors that count. What cannot be laid out fails, whatever is asked for.
Findings counting(const Trial& trial, const std::vector<std::string>& checks) {
  Findings errors;
  std::ranges::copy_if(trial.findings, std::back_inserter(errors), [&](const Finding& finding) {
    if (finding.severity != Severity::error) return false;
    return !trial.layout || checks.empty() ||
           std::ranges::any_of(checks, [&](const std::string& word) {
             return speaks_of(word, finding);
           });
  });
  return errors;
}

/// Everything that a word of --check may name in this layout.
std::vector<std::string> known_checks(const Layout& layout) {
  std::set<std::string> known;
  for (const Message& message : english_messages()) {
    const std::string code(message.code);
    known.insert(code);
    known.insert(code.substr(0, code.find('.')));
  }
  for (const Module& module : layout.modules) known.insert(module.name);
  for (const Part& part : layout.parts) known.insert(part.id);
  for (const Motion& motion : layout.motions) known.insert(motion.id);
  return {known.begin(), known.end()};
}

Findings unknown_checks(const std::vector<std::string>& words, const Layout& layout) {
  const std::vector<std::string> known = known_checks(layout);
  Findings findings;
  for (const std::string& word : words) {
    if (std::ranges::binary_search(known, word)) continue;
    Finding finding = input_error("size.no_such_check", {"--check", 0, 0, word});
    finding.subjects = {word};
    const std::string near = nearest(word, known);
    if (!near.empty()) finding.with("nearest", near);
    findings.push_back(std::move(finding));
  }
  return findings;
}

ExitCode say_wrong(Findings findings, LengthStyle show, const Surroundings& world) {
  sort_findings(findings);
  for (const Finding& finding : findings) {
    const std::string text = finding_text(finding, show) + "\n";
    world.out << (world.out_colour ? coloured(text) : text);
  }
  return ExitCode::wrong_input;
}

}  // namespace

ExitCode run_size(const Command& command, const Surroundings& world) {
  auto inputs = read_inputs(command.file, command.settings);
  if (!inputs.value || has_errors(inputs.findings))
    return say_wrong(std::move(inputs.findings), LengthStyle::millimetres, world);
  Result<SizeOrder> order = read_size_order(command, *inputs.value);
  if (!order) return say_wrong(order.error(), LengthStyle::millimetres, world);
  const Built<std::optional<Layout>> now = lay_out(*inputs.value);
  if (now.value && !command.checks.empty()) {
    Findings unknown = unknown_checks(command.checks, *now.value);
    if (!unknown.empty()) return say_wrong(std::move(unknown), order->show, world);
  }

  const int jobs = command.jobs.value_or(std::max(world.cores, 1));
  const ReadFile read = reader_of(*inputs.value);
  Memo memo;  // from one value to the next little changes
  const Judge judge = [&](Tick value) {
    std::vector<std::string> settings = command.settings;
    settings.push_back(order->path + "=" + order->setting(value));
    return counting(try_project(command.file, settings, read, 1, Advice::left_out, memo),
                    command.checks);
  };
  const ForEach for_each = [&](std::size_t count, const std::function<void(std::size_t)>& work) {
    for_each_slot(count, jobs, work);
  };
  const SizeFound found = find_size(order->range, judge, for_each);
  if (command.json) {
    world.out << size_json(command, *order, found);
  } else {
    const std::string page = size_page(command, *order, found);
    world.out << (world.out_colour ? coloured(page) : page);
  }
  return found.value ? ExitCode::nothing_wrong : ExitCode::findings;
}

}  // namespace ribbay::detail
