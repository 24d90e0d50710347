#include "candidates.hpp"

#include "base/messages.hpp"
#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "clearance/clearance.hpp"
#include "reread.hpp"
#include "tables/csv.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

/// A place of the project that several things could stand in.
struct Hold {
  std::string path;  ///< "module.rack.holds.fridge"
  std::string module;
  std::string name;             ///< "fridge"; "item" where the module is the place itself
  bool module_repeats = false;  ///< then its parts are those of rack_1, rack_2 and so on
  bool repeats = false;         ///< then it is fridge_1, fridge_2 and so on
  std::vector<std::string> keys;
  std::optional<std::string> item;

  std::string id() const { return module + "/" + name; }
};

std::optional<std::string> text_of(const Node* node) {
  if (node == nullptr || node->text() == nullptr) return std::nullopt;
  return *node->text();
}

/// Looks for places in a table of a module, itself included.
void add_holds(const Node& node, const Hold& here, std::vector<Hold>& holds) {
  if (node.table() == nullptr) return;
  const Node* candidates = node.find("candidates");
  if (candidates != nullptr && candidates->array() != nullptr) {
    Hold& hold = holds.emplace_back(here);
    hold.item = text_of(node.find("item"));
    for (const Node& key : *candidates->array()) {
      if (const auto text = text_of(&key)) hold.keys.push_back(*text);
    }
    return;
  }
  for (const Entry& entry : *node.table()) {
    Hold inner = here;
    inner.path += "." + entry.key;
    inner.name = entry.key;
    inner.repeats = entry.value.find("repeat") != nullptr;
    add_holds(entry.value, inner, holds);
  }
}

std::vector<Hold> holds_of(const Document& project) {
  std::vector<Hold> holds;
  const Node* modules = project.root.find("module");
  if (modules == nullptr || modules->table() == nullptr) return holds;
  for (const Entry& module : *modules->table()) {
    const Hold whole{.path = "module." + module.key,
                     .module = module.key,
                     .name = "item",
                     .module_repeats = module.value.find("repeat") != nullptr,
                     .keys = {},
                     .item = {}};
    add_holds(module.value, whole, holds);
  }
  return holds;
}

/// Whether `word` is `name`, or one of its copies.
bool is_called(std::string_view word, const std::string& name, bool repeats) {
  if (!word.starts_with(name)) return false;
  word.remove_prefix(name.size());
  if (!repeats || word.empty()) return word.empty();
  word.remove_prefix(1);
  return !word.empty() && std::ranges::all_of(word, [](char c) { return c >= '0' && c <= '9'; });
}

/// Whether a subject of a finding is what stands in the place, or belongs to it: "rack/fridge.door".
bool is_part_of(std::string_view subject, const Hold& hold) {
  const std::size_t slash = subject.find('/');
  if (slash == std::string_view::npos) return false;
  const std::string_view part = subject.substr(slash + 1);
  return is_called(subject.substr(0, slash), hold.module, hold.module_repeats) &&
         is_called(part.substr(0, part.find('.')), hold.name, hold.repeats);
}

struct Trial {
  Candidate row;
  Findings errors;
  bool left_out = false;  ///< the place counts not at all: its `when` is not so
};

void keep_errors(const Findings& findings, Findings& errors) {
  std::ranges::copy_if(findings, std::back_inserter(errors),
                       [](const Finding& finding) { return finding.severity == Severity::error; });
}

/// The clear distance from what stands there to what is nearest and does not touch it; what lies
/// wholly below its underside carries it and does not count.
std::optional<double> gap_around(Layout layout, const Hold& hold, int jobs, Memo& memo) {
  layout.tight = kLooked;
  std::optional<double> gap;
  for (const Contact& contact : check_clearance(layout, jobs, false, &memo).contacts) {
    const bool first = is_part_of(contact.a, hold);
    if (contact.verdict != Verdict::tight || first == is_part_of(contact.b, hold)) continue;
    const Part* item = layout.find(first ? contact.a : contact.b);
    const Part* other = layout.find(first ? contact.b : contact.a);
    if (other == nullptr && (first ? contact.b : contact.a) == "vehicle/floor") continue;
    if (other != nullptr && bounds(*other).hi.z <= bounds(*item).lo.z + kContact) continue;
    gap = std::min(gap.value_or(kLooked), contact.separation);
  }
  return gap;
}

Trial try_one(const std::string& file, const Inputs& inputs, std::vector<std::string> settings,
              const Hold& hold, const std::string& key, int jobs, Memo& memo) {
  Trial trial{{.place = hold.id(), .key = key, .title = key, .fault = {}, .gap = {}}, {}};
  settings.push_back(hold.path + ".item=" + key);
  const auto again = read_inputs(file, settings, reader_of(inputs));
  keep_errors(again.findings, trial.errors);
  if (!again.value) return trial;
  const auto layout = lay_out(*again.value);
  keep_errors(layout.findings, trial.errors);
  if (!layout.value) return trial;
  if (has_errors(trial.errors)) return trial;
  trial.left_out = std::ranges::none_of(
      layout.value->parts, [&](const Part& part) { return is_part_of(part.id, hold); });
  keep_errors(check_clearance(*layout.value, jobs, false, &memo).findings, trial.errors);
  trial.row.gap = gap_around(*layout.value, hold, jobs, memo);
  return trial;
}

/// The first error of a trial that is its own: it names what stands there, or some other candidate
/// does without it.
const Finding* own_error(const Trial& trial, const std::vector<Trial>& all, const Hold& hold) {
  for (const Finding& error : trial.errors) {
    const bool named = std::ranges::any_of(error.subjects, [&](const std::string& subject) {
      return is_part_of(subject, hold) || (hold.name == "item" && subject == hold.module);
    });
    const bool always = std::ranges::all_of(all, [&](const Trial& other) {
      return std::ranges::find(other.errors, error) != other.errors.end();
    });
    if (named || !always) return &error;
  }
  return nullptr;
}

std::string gap_text(const Candidate& row, LengthStyle style) {
  return row.gap ? value_text(*row.gap, Unit::mm, style)
                 : value_text(kLooked, Unit::mm, style) + " or more";
}

}  // namespace

Trials try_candidates(const std::string& file, const Inputs& inputs,
                      const std::vector<std::string>& settings, int jobs, Memo& memo) {
  Trials trials{{}, settings};
  const std::vector<Hold> holds = holds_of(inputs.project);
  if (holds.empty()) return trials;
  const auto equipment = read_catalogue(inputs.project).value.equipment;
  for (const Hold& hold : holds) {
    std::vector<Trial> all;
    for (const std::string& key : hold.keys) {
      Candidate& row = all.emplace_back(try_one(file, inputs, settings, hold, key, jobs, memo)).row;
      if (const auto item = equipment.find(key); item != equipment.end()) {
        row.title = item->second.title;
        row.mass_kg = item->second.mass_kg;
      }
    }
    std::erase_if(all, [](const Trial& trial) { return trial.left_out; });
    if (all.empty()) continue;
    for (Trial& trial : all) {
      if (const Finding* error = own_error(trial, all, hold)) trial.row.fault = *error;
    }
    auto built = std::ranges::find_if(all, [&](const Trial& trial) {
      return hold.item ? trial.row.key == *hold.item : trial.row.fits();
    });
    if (!hold.item) {
      if (built == all.end()) built = all.begin();
      trials.settings.push_back(hold.path + ".item=" + built->row.key);
    }
    if (built != all.end()) built->row.built = true;
    for (Trial& trial : all) trials.rows.push_back(std::move(trial.row));
  }
  return trials;
}

bool candidates_differ(const std::vector<Candidate>& rows) {
  return std::ranges::any_of(rows,
                             [&](const Candidate& row) { return row.fault != rows.front().fault; });
}

std::string candidates_page(const std::vector<Candidate>& rows, LengthStyle style) {
  std::string page;
  std::string place;
  for (const Candidate& row : rows) {
    if (row.place != place) page += "\ncandidates for " + row.place + "\n";
    place = row.place;
    page += (row.built ? "  * " : "    ") + row.title + " (" + row.key + "), ";
    page += value_text(row.mass_kg, Unit::kg, style) + ": ";
    page +=
        row.fits() ? "fits, clear gap " + gap_text(row, style) : message_text(*row.fault, style);
    page += "\n";
  }
  if (std::ranges::any_of(rows, &Candidate::built)) page += "  * is built\n";
  return page;
}

OutputFile candidates_file(const std::vector<Candidate>& rows, LengthStyle style) {
  const std::string unit = style == LengthStyle::inches ? "in" : "mm";
  std::vector<std::vector<std::string>> table{{"place", "candidate", "title", "fits",
                                               "first finding", "clear gap " + unit, "mass_kg",
                                               "built"}};
  for (const Candidate& row : rows) {
    std::string gap;
    if (row.fits()) {
      gap = row.gap ? length_text(*row.gap, style) : ">= " + length_text(kLooked, style);
    }
    table.push_back({row.place, row.key, row.title, row.fits() ? "yes" : "no",
                     row.fits() ? "" : message_text(*row.fault, style), gap,
                     rounded_text(row.mass_kg, 3), row.built ? "yes" : "no"});
  }
  return {"shop/candidates.csv", csv_text(table), "equipment that was tried for a place, compared"};
}

}  // namespace ribbay::detail
