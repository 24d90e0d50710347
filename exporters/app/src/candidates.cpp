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
  std::string id;    ///< "rack/fridge"
  std::vector<std::string> keys;
  std::optional<std::string> item;
};

std::optional<std::string> text_of(const Node* node) {
  if (node == nullptr || node->text() == nullptr) return std::nullopt;
  return *node->text();
}

void add_holds(const Node& node, const std::string& path, const std::string& module,
               std::vector<Hold>& holds) {
  if (node.table() == nullptr) return;
  for (const Entry& entry : *node.table()) {
    const std::string here = path + "." + entry.key;
    const Node* candidates = entry.value.find("candidates");
    if (candidates == nullptr || candidates->array() == nullptr) {
      add_holds(entry.value, here, module, holds);
      continue;
    }
    Hold hold{here, module + "/" + entry.key, {}, text_of(entry.value.find("item"))};
    for (const Node& key : *candidates->array()) {
      if (const auto text = text_of(&key)) hold.keys.push_back(*text);
    }
    holds.push_back(std::move(hold));
  }
}

std::vector<Hold> holds_of(const Document& project) {
  std::vector<Hold> holds;
  const Node* modules = project.root.find("module");
  if (modules == nullptr || modules->table() == nullptr) return holds;
  for (const Entry& module : *modules->table()) {
    add_holds(module.value, "module." + module.key, module.key, holds);
  }
  return holds;
}

bool is_part_of(const std::string& subject, const std::string& id) {
  return subject == id || subject.starts_with(id + ".");
}

struct Trial {
  Candidate row;
  Findings errors;
};

void keep_errors(const Findings& findings, Findings& errors) {
  std::ranges::copy_if(findings, std::back_inserter(errors),
                       [](const Finding& finding) { return finding.severity == Severity::error; });
}

/// The clear distance from what stands at `id` to what is nearest and does not touch it; what lies
/// wholly below its underside carries it and does not count.
std::optional<double> gap_around(Layout layout, const std::string& id, int jobs) {
  const Part* item = layout.find(id);
  if (item == nullptr) return std::nullopt;
  const double underside = bounds(*item).lo.z;
  layout.tight = kLooked;
  std::optional<double> gap;
  for (const Contact& contact : check_clearance(layout, jobs).contacts) {
    const bool first = is_part_of(contact.a, id);
    if (contact.verdict != Verdict::tight || first == is_part_of(contact.b, id)) continue;
    const Part* other = layout.find(first ? contact.b : contact.a);
    if (other != nullptr && bounds(*other).hi.z <= underside + kContact) continue;
    gap = std::min(gap.value_or(kLooked), contact.separation);
  }
  return gap;
}

Trial try_one(const std::string& file, const Inputs& inputs, std::vector<std::string> settings,
              const Hold& hold, const std::string& key, int jobs) {
  Trial trial{{.place = hold.id, .key = key, .title = key, .fault = {}, .gap = {}}, {}};
  settings.push_back(hold.path + ".item=" + key);
  const auto again = read_inputs(file, settings, reader_of(inputs));
  keep_errors(again.findings, trial.errors);
  if (!again.value) return trial;
  const auto layout = lay_out(*again.value);
  keep_errors(layout.findings, trial.errors);
  if (!layout.value) return trial;
  if (const auto item = layout.value->catalogue->equipment.find(key);
      item != layout.value->catalogue->equipment.end()) {
    trial.row.title = item->second.title;
    trial.row.mass_kg = item->second.mass_kg;
  }
  if (has_errors(trial.errors)) return trial;
  keep_errors(check_clearance(*layout.value, jobs).findings, trial.errors);
  trial.row.gap = gap_around(*layout.value, hold.id, jobs);
  return trial;
}

/// The first error of a trial that is its own: it names what stands there, or some other candidate
/// does without it.
const Finding* own_error(const Trial& trial, const std::vector<Trial>& all) {
  for (const Finding& error : trial.errors) {
    const bool named = std::ranges::any_of(error.subjects, [&](const std::string& subject) {
      return is_part_of(subject, trial.row.place);
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
                      const std::vector<std::string>& settings, int jobs) {
  Trials trials{{}, settings};
  for (const Hold& hold : holds_of(inputs.project)) {
    std::vector<Trial> all;
    for (const std::string& key : hold.keys) {
      all.push_back(try_one(file, inputs, settings, hold, key, jobs));
    }
    if (all.empty()) continue;
    for (Trial& trial : all) {
      if (const Finding* error = own_error(trial, all)) trial.row.fault = *error;
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
  if (!page.empty()) page += "  * is built\n";
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
