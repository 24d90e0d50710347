#include "suggest_change.hpp"

#include "base/tolerance.hpp"
#include "layout/again.hpp"
#include "reread.hpp"
#include "spec/vocabulary.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <map>
#include <optional>
#include <set>
#include <utility>

namespace ribbay::detail {

namespace {

/// Each try lays the project out again: so many in all, and so many findings that get advice.
constexpr int kMostTrials = 24;
constexpr std::size_t kMostAdvice = 3;

/// A length that stands in a file and may be changed.
struct Lever {
  std::string path;  ///< "values.bay", "module.rack.place.rear"
  double now = 0.0;
  Place place;
  std::size_t entry = 0;  ///< of a list: which, counted from 1; 0: it is no list

  /// As --set names it.
  std::string name() const {
    return entry == 0 ? path : path + "[" + std::to_string(entry) + "]";
  }
  bool operator==(const Lever& other) const { return path == other.path && entry == other.entry; }
};

constexpr std::array<std::string_view, 5> kCollisions{"clearance.clash", "clearance.finish",
                                                      "clearance.modules", "clearance.motion",
                                                      "clearance.zone"};

bool is_collision(const Finding& finding) {
  return finding.severity == Severity::error &&
         std::ranges::find(kCollisions, finding.code) != kCollisions.end();
}

/// The modules that the subjects of a finding belong to, each once.
std::vector<std::string> modules_of(const Finding& finding) {
  std::vector<std::string> modules;
  for (const std::string& subject : finding.subjects) {
    const std::string module = subject.substr(0, subject.find('/'));
    if (module != "vehicle" && std::ranges::find(modules, module) == modules.end())
      modules.push_back(module);
  }
  return modules;
}

double number_of(const Finding& finding, const char* name) {
  const Argument* argument = finding.argument(name);
  const double* number = argument ? std::get_if<double>(&argument->value) : nullptr;
  return number ? *number : 0.0;
}

/// By how much something must move, mm; 0: not known.
double needed(const Finding& finding, const ClearanceResult& result) {
  if (finding.code != "clearance.motion") return number_of(finding, "measured");
  const Argument* named = finding.argument("motion");
  const auto* id = named ? std::get_if<std::string>(&named->value) : nullptr;
  if (id == nullptr) return 0.0;
  const auto motion = std::ranges::find(result.motions, *id, &MotionResult::motion);
  return motion == result.motions.end() ? 0.0 : motion->shift;
}

/// What is written in a module, deepest last: places and sizes come before what is inside it.
void add_paths(const Node& table, const std::string& path, std::vector<std::string>& paths) {
  static const std::set<std::string_view> skipped{"kind",   "title",    "faces",    "when",
                                                  "repeat", "finishes", "based_on", "gaps"};
  std::vector<const Entry*> inner;
  for (const Entry& entry : *table.table()) {
    if (skipped.contains(entry.key)) continue;
    const auto& value = entry.value.value;
    if (entry.value.table() != nullptr) {
      inner.push_back(&entry);
    } else if (entry.value.array() != nullptr || std::holds_alternative<std::int64_t>(value) ||
               std::holds_alternative<double>(value) || entry.value.text() != nullptr) {
      paths.push_back(path + "." + entry.key);
    }
  }
  for (const Entry* entry : inner) add_paths(entry->value, path + "." + entry->key, paths);
}

void add_lever(Lever lever, std::vector<Lever>& levers) {
  if (std::ranges::find(levers, lever) == levers.end()) levers.push_back(std::move(lever));
}

/// Whether a number stands there, with its unit or without; what depends on others does not count.
bool is_number(const Node& node) {
  const std::string* text = node.text();
  if (text == nullptr)
    return std::holds_alternative<std::int64_t>(node.value) ||
           std::holds_alternative<double>(node.value);
  if (text->find_first_of("()*+,_") != std::string::npos) return false;
  const auto is_letter = [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; };
  std::vector<std::string> words;
  for (std::size_t i = 0; i < text->size(); ++i) {
    if (!is_letter((*text)[i])) continue;
    if (i == 0 || !is_letter((*text)[i - 1])) words.emplace_back();
    words.back() += (*text)[i];
  }
  const std::vector<ListedUnit> units = listed_units();
  return std::ranges::all_of(words, [&](const std::string& word) {
    return std::ranges::find(units, word, &ListedUnit::name) != units.end();
  });
}

/// The numbers in a list of lengths.
void add_entries(const Inputs& inputs, const Origin& origin, std::vector<Lever>& levers) {
  const Node* list = &inputs.project.root;
  for (const std::string& key : split(origin.path)) list = list != nullptr ? list->find(key) : nullptr;
  const Node::Array* nodes = list != nullptr ? list->array() : nullptr;
  if (nodes == nullptr || nodes->size() != origin.answer.size()) return;
  for (std::size_t i = 0; i < nodes->size(); ++i) {
    const auto& value = origin.answer[i].quantity;
    if (value && value->dimension == dimension::length && is_number((*nodes)[i]))
      add_lever({origin.path, value->value, (*nodes)[i].place, i + 1}, levers);
  }
}

/// The lengths that a value is made from and that stand in a file as numbers.
void add_levers(const Origin& origin, std::vector<Lever>& levers) {
  const bool number = origin.value && origin.value->dimension == dimension::length;
  if (origin.kind == Origin::Kind::written && origin.uses.empty() && number) {
    add_lever({origin.path, origin.value->value, origin.place}, levers);
    return;
  }
  for (const Origin& used : origin.uses) add_levers(used, levers);
}

/// Of one module: where it stands is changed sooner than what it is.
std::vector<Lever> levers_of(const Inputs& inputs, const std::shared_ptr<const Catalogue>& catalogue,
                             const std::string& module) {
  const Node* all = inputs.project.root.find("module");
  const Node* table = all ? all->find(module) : nullptr;
  if (table == nullptr || table->table() == nullptr) return {};
  std::vector<std::string> paths;
  const Node* place = table->find("place");
  const std::string path = "module." + module;
  if (place != nullptr && place->table() != nullptr) add_paths(*place, path + ".place", paths);
  add_paths(*table, path, paths);
  std::vector<Lever> levers;
  for (const auto& origin : explain_values(inputs, paths, catalogue)) {
    if (!origin) continue;
    if (origin->value && origin->value->dimension == dimension::length) add_levers(*origin, levers);
    add_entries(inputs, *origin, levers);
  }
  return levers;
}

/// Of several modules: the first of each, then the second of each, and so on, since only so many
/// are tried.
std::vector<Lever> by_turns(const std::vector<std::vector<Lever>>& each) {
  std::size_t most = 0;
  for (const std::vector<Lever>& of_one : each) most = std::max(most, of_one.size());
  std::vector<Lever> levers;
  for (std::size_t i = 0; i < most; ++i) {
    for (const std::vector<Lever>& of_one : each) {
      if (i < of_one.size()) add_lever(of_one[i], levers);
    }
  }
  return levers;
}

/// Whether an error is one of those before: the same words may have other numbers by now.
bool is_among(const Finding& error, const Findings& before) {
  return std::ranges::any_of(before, [&](const Finding& known) {
    return known.code == error.code && known.subjects == error.subjects;
  });
}

/// Tries changes; counts what that costs.
class Suggestions {
 public:
  Suggestions(const std::string& file, const Inputs& inputs,
              const std::vector<std::string>& settings, const Layout& layout,
              const ClearanceResult& before, int jobs, Memo& memo)
      : file_{file},
        inputs_{inputs},
        settings_{settings},
        layout_{layout},
        before_{before},
        jobs_{jobs},
        memo_{memo} {}

  std::optional<Finding> change_for(const Finding& finding) {
    const double step = std::ceil(needed(finding, before_) - kSame);
    // A parameter whose new value has been confirmed already is told with the finding itself.
    if (step < 1.0 || finding.argument("value") != nullptr) return std::nullopt;
    if (trials_ >= kMostTrials) return std::nullopt;
    const std::vector<Lever> levers = levers_of(finding);
    // Of what stands in the middle only half of a change is felt.
    for (const double change : {step, 2 * step}) {
      for (const Lever& lever : levers) {
        for (const double value : {lever.now + change, lever.now - change}) {
          if (lever.now >= 0.0 && value < 0.0) continue;
          if (trials_++ >= kMostTrials) return std::nullopt;
          if (mends(finding, lever.name(), value)) return told(finding, lever, value);
        }
      }
    }
    return std::nullopt;
  }

 private:
  std::vector<Lever> levers_of(const Finding& finding) {
    std::vector<std::vector<Lever>> each;
    for (const std::string& module : modules_of(finding)) {
      const auto [known, fresh] = levers_.try_emplace(module);
      if (fresh) known->second = detail::levers_of(inputs_, layout_.catalogue, module);
      each.push_back(known->second);
    }
    return by_turns(each);
  }

  bool mends(const Finding& finding, const std::string& name, double value) const {
    std::vector<std::string> settings = settings_;
    settings.push_back(name + "=" + number_text(value) + " mm");
    const auto again = read_inputs(file_, settings, reader_of(inputs_));
    if (!again.value || has_errors(again.findings)) return false;
    // What is bought does not hang on modules.
    const bool of_module = name.starts_with("module.");
    const auto layout = lay_out(*again.value, of_module ? layout_.catalogue : nullptr);
    if (!layout.value || has_errors(layout.findings)) return false;
    const Findings after = check_clearance(*layout.value, jobs_, false, &memo_).findings;
    return !is_among(finding, after) && std::ranges::all_of(after, [&](const Finding& error) {
      return error.severity != Severity::error || is_among(error, before_.findings);
    });
  }

  static Finding told(const Finding& finding, const Lever& lever, double value) {
    Finding advice;
    advice.code = lever.entry == 0 ? "advice.change" : "advice.change_entry";
    advice.severity = Severity::note;
    advice.subjects = finding.subjects;
    advice.place = lever.place;
    std::string name = lever.path;
    for (const std::string_view start : {"module.", "values."}) {
      if (name.starts_with(start)) name.erase(0, start.size());
    }
    advice.with(lever.entry == 0 ? "parameter" : "list", name);
    if (lever.entry > 0) advice.with("entry", static_cast<double>(lever.entry), Unit::count);
    return std::move(advice.with("now", lever.now, Unit::mm)
                         .with("value", value, Unit::mm));
  }

  const std::string& file_;
  const Inputs& inputs_;
  const std::vector<std::string>& settings_;
  const Layout& layout_;
  const ClearanceResult& before_;
  int jobs_;
  Memo& memo_;
  int trials_ = 0;
  std::map<std::string, std::vector<Lever>> levers_;  ///< by module
};

std::string finishes_of(const Layout& layout, const std::vector<std::string>& parts) {
  std::vector<std::string> names;
  for (const std::string& id : parts) {
    const Part* part = layout.find(id);
    if (part == nullptr || !part->finished) continue;
    for (const Covering& covering : part->coverings) {
      if (std::ranges::find(names, covering.finish) == names.end())
        names.push_back(covering.finish);
    }
  }
  return join(names, ", ");
}

/// Blocked motions that go all their way when every part is bare.
Findings finishes_in_the_way(const Layout& layout, const ClearanceResult& result, int jobs,
                             Memo& memo) {
  const bool blocked = std::ranges::any_of(result.motions, &MotionResult::blocked);
  if (!blocked || std::ranges::none_of(layout.parts, [](const Part& part) {
        return part.finished != nullptr;
      })) {
    return {};
  }
  Layout bare = layout;
  for (Part& part : bare.parts) part.finished = nullptr;
  const ClearanceResult without = check_clearance(bare, jobs, false, &memo);
  Findings findings;
  for (const MotionResult& motion : result.motions) {
    const auto free = std::ranges::find(without.motions, motion.motion, &MotionResult::motion);
    if (!motion.blocked || free == without.motions.end() || free->blocked) continue;
    const std::string finishes = finishes_of(layout, {motion.mover, motion.obstacle});
    if (finishes.empty()) continue;
    Finding finding;
    finding.code = "advice.finish";
    finding.severity = Severity::note;
    finding.subjects = {motion.motion, motion.mover, motion.obstacle};
    findings.push_back(std::move(finding.with("finishes", finishes)));
  }
  return findings;
}

}  // namespace

Findings suggest_changes(const std::string& file, const Inputs& inputs,
                         const std::vector<std::string>& settings, const Layout& layout,
                         const ClearanceResult& result, int jobs, Memo& memo) {
  Findings advice = finishes_in_the_way(layout, result, jobs, memo);
  Suggestions suggestions(file, inputs, settings, layout, result, jobs, memo);
  std::set<std::vector<std::string>> asked;
  for (const Finding& finding : result.findings) {
    if (!is_collision(finding) || asked.size() >= kMostAdvice) continue;
    if (!asked.insert(modules_of(finding)).second) continue;
    if (auto change = suggestions.change_for(finding)) advice.push_back(std::move(*change));
  }
  return advice;
}

}  // namespace ribbay::detail
