#include "confirm_advice.hpp"

#include "base/tolerance.hpp"
#include "reread.hpp"
#include "spec/evaluator.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

namespace ribbay::detail {

namespace {

std::string join_until(const std::vector<std::string>& words, std::size_t end) {
  return join(std::span(words).first(end), ".");
}

SchemaPtr schema_of_module(const Node& root, const std::string& module) {
  const Node* modules = root.find("module");
  const Node* table = modules ? modules->find(module) : nullptr;
  const Node* kind = table ? table->find("kind") : nullptr;
  if (kind == nullptr || kind->text() == nullptr) return nullptr;
  for (const NamedSchema& named : project_schemas()) {
    if (named.name == *kind->text()) return named.schema;
  }
  return nullptr;
}

/// The schema of the table that holds the last word of a parameter such as
/// galley.columns.first.before.
SchemaPtr schema_of_holder(SchemaPtr schema, const std::vector<std::string>& words) {
  for (std::size_t i = 1; schema && i + 1 < words.size(); ++i) {
    const Field* field = schema->find(words[i]);
    if (field == nullptr) return nullptr;
    if (field->kind == FieldKind::keyed) ++i;  // the next word is a name of the builder's
    schema = field->inner;
  }
  return schema;
}

/// What a parameter of a module is now, its default included; nullopt when that depends on the van
/// or on other modules.
std::optional<double> present_value(const Document& project, const std::string& parameter) {
  const std::vector<std::string> words = split(parameter);
  if (words.size() < 2) return std::nullopt;
  const SchemaPtr schema = schema_of_holder(schema_of_module(project.root, words.front()), words);
  if (!schema || schema->find(words.back()) == nullptr) return std::nullopt;
  const std::string holder = "module." + join_until(words, words.size() - 1);
  Evaluator evaluator(project, {});
  evaluator.declare(holder, schema);
  return evaluator.number(holder, words.back());
}

std::size_t count_errors(const Findings& findings) {
  return static_cast<std::size_t>(
      std::ranges::count(findings, Severity::error, &Finding::severity));
}

bool passes(const ClearanceResult& result, const std::string& motion) {
  const auto found = std::ranges::find(result.motions, motion, &MotionResult::motion);
  return found != result.motions.end() && !found->blocked;
}

Finding* finding_of(Findings& findings, const std::string& motion) {
  const auto found = std::ranges::find_if(findings, [&](const Finding& finding) {
    const Argument* named =
        finding.code == "clearance.motion" ? finding.argument("motion") : nullptr;
    return named != nullptr && named->value == std::variant<std::string, double>(motion);
  });
  return found == findings.end() ? nullptr : &*found;
}

/// A new value for a parameter, and how much more that is.
struct Mend {
  double value = 0.0;
  double more = 0.0;
};

/// The new value of `parameter` with which the motion passes and no other error comes up.
std::optional<Mend> confirmed_value(const std::string& file, const Inputs& inputs,
                                    std::vector<std::string> settings,
                                    const ClearanceResult& before, const MotionResult& blocked,
                                    const std::string& parameter, int jobs, Memo& memo) {
  const auto now = present_value(inputs.project, parameter);
  if (!now) return std::nullopt;
  const double value = std::ceil(*now + blocked.shift - kSame);
  settings.push_back("module." + parameter + "=" + number_text(value) + " mm");

  const auto again = read_inputs(file, settings, reader_of(inputs));
  if (!again.value || has_errors(again.findings)) return std::nullopt;
  const auto layout = lay_out(*again.value);
  if (!layout.value || has_errors(layout.findings)) return std::nullopt;
  const ClearanceResult after = check_clearance(*layout.value, jobs, false, &memo);
  const bool better = count_errors(after.findings) < count_errors(before.findings);
  return better && passes(after, blocked.motion) ? std::optional(Mend{value, value - *now})
                                                 : std::nullopt;
}

}  // namespace

void confirm_advice(const std::string& file, const Inputs& inputs,
                    const std::vector<std::string>& settings, ClearanceResult& result, int jobs,
                    Memo& memo) {
  for (const MotionResult& motion : result.motions) {
    if (!motion.blocked || motion.shift <= 0.0) continue;
    Finding* finding = finding_of(result.findings, motion.motion);
    const Argument* parameter = finding ? finding->argument("parameter") : nullptr;
    if (parameter == nullptr) continue;
    const auto mend = confirmed_value(file, inputs, settings, result, motion,
                                      std::get<std::string>(parameter->value), jobs, memo);
    if (!mend) continue;
    // The shift as rounded up: it and the value must add up to what stands in the file.
    std::ranges::find(finding->arguments, "shift", &Argument::name)->value = mend->more;
    finding->with("value", mend->value, Unit::mm);
  }
}

}  // namespace ribbay::detail
