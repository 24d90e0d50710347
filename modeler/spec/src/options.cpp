#include "evaluator_state.hpp"
#include "units.hpp"
#include "words.hpp"

#include <algorithm>
#include <array>

/// Options, and the tables that their conditions leave out.
namespace ribbay {

using namespace detail;

void detail::drop_own_guard(Spot& spot) {
  if (spot.guards.empty()) return;
  const Guard& last = spot.guards.back();
  if (spot.field == last.field && spot.node == last.when) spot.guards.pop_back();
}

void Evaluator::State::add_guard(Guards& guards, const std::string& path, const Schema& schema,
                                 const Node* node, const Declared* home) const {
  const Node* when = node == nullptr ? nullptr : node->find("when");
  if (when == nullptr) return;
  const Field* field = schema.find("when");
  if (field != nullptr && field->conditional) guards.push_back({path, field, when, home});
}

Guards Evaluator::State::guards_of(const Declared& table) const {
  Guards guards;
  add_guard(guards, table.path, *table.schema, table.node(), &table);
  return guards;
}

/// The condition of an outer table decides before those inside it.
Standing Evaluator::State::standing(const Guards& guards) {
  Guards around;
  for (const Guard& guard : guards) {
    start_recording();  // the condition is no part of the value behind it
    const Computed& computed = compute({guard.table + "." + guard.field->name, guard.field,
                                        guard.when, guard.when->place, guard.home, around});
    (void)stop_recording();
    if (!computed.ok()) return {Standing::Kind::failed, nullptr};
    if (!std::get<bool>(computed.item.value)) return {Standing::Kind::left_out, &guard};
    around.push_back(guard);
  }
  return {};
}

bool Evaluator::State::is_left_out(const Guards& guards) {
  return standing(guards).kind == Standing::Kind::left_out;
}

/// Left out by a plain false: not meant to be whole.
bool Evaluator::State::is_pattern(const Guards& guards) {
  const Standing stands = standing(guards);
  return stands.by != nullptr && std::holds_alternative<bool>(stands.by->when->value);
}

/// The condition that leaves out the table which a name of the resolvers begins with; nullptr when
/// it is not known here. `guards` holds what is returned.
const Guard* Evaluator::State::guard_of_name(std::string_view name, Guards& guards) {
  const auto alias = aliases.find(name.substr(0, name.find('.')));
  if (alias == aliases.end()) return nullptr;
  guards = guards_of(*find_declared(alias->second));
  return standing(guards).by;
}

void Evaluator::State::left_out(const Guard* by, std::string_view name,
                                std::optional<Place> place) {
  const std::string* condition = by == nullptr ? nullptr : by->when->text();
  Finding finding =
      input_error(condition == nullptr ? "expression.left_out_always" : "expression.left_out", {});
  finding.place = std::move(place);
  finding.subjects = {std::string(name)};
  finding.with("table", by == nullptr ? std::string(name.substr(0, name.find('.'))) : by->table);
  if (condition != nullptr) {
    finding.with("condition", *condition).with("where", place_text(by->when->place));
  }
  report(std::move(finding));
}

/// A name that leads into a table which is left out: a fault, unless its value does not matter.
Term Evaluator::State::left_out_term(const Guard* by, const Word& word, Dimension dimension,
                                     bool flag) {
  if (word.counts) {
    left_out(by, word.text, word.place());
    return {};
  }
  return flag ? Term::of(false) : Term::of(Quantity{1.0, dimension});
}

void Evaluator::State::check_entries(std::string_view table) {
  const Node* node = document.root.find(table);
  if (node == nullptr) return;
  if (node->table() == nullptr)
    return wrong_type(std::string(table), *node, "table", "[" + std::string(table) + "]");
  for (const Entry& entry : *node->table()) {
    if (auto finding = made_by_set(entry, *node, std::string(table))) report(std::move(*finding));
    (void)compute_entry({table, &entry});
  }
}

/// A name means one thing: an option, a value or a table.
void Evaluator::State::check_clashes(std::string_view table) {
  const Node* node = document.root.find(table);
  if (node == nullptr || node->table() == nullptr) return;
  const auto clash = [&](const char* code, const Entry& entry, const Entry& other) {
    Finding finding = input_error(code, entry.key_place);
    finding.subjects = {entry.key};
    report(std::move(finding).with("where", place_text(other.key_place)));
  };
  for (const Entry& entry : *node->table()) {
    const auto value = value_entries.find(entry.key);
    const bool twice = table == "options" && value != value_entries.end();
    if (twice) clash("input.option_and_value", entry, *value->second);
    const auto alias = aliases.find(entry.key);
    const Declared* named = alias == aliases.end() ? nullptr : find_declared(alias->second);
    if (named != nullptr && named->entry != nullptr) {
      clash("input.value_and_table", entry, *named->entry);
    }
  }
}

/// Reports a name that means something else in every expression.
bool Evaluator::State::is_reserved(const std::string& path, const Entry& entry) {
  static constexpr std::array words = {"self", "vehicle", "values", "options", "and",   "or",
                                       "not",  "true",    "false",  "share",   "shares"};
  const auto among = [&](const auto& names) {
    return std::ranges::find(names, entry.key) != std::end(names);
  };
  std::string meaning;
  if (among(words)) meaning = "a word with a meaning of its own";
  if (among(built_in_words())) meaning = "a function";
  if (find_unit(entry.key) != nullptr) meaning = "a unit";
  if (resolvers.known_questions && among(resolvers.known_questions())) {
    meaning = "a question to the van";
  }
  if (meaning.empty()) return false;
  Finding finding = input_error("input.reserved_name", entry.key_place);
  finding.subjects = {path};
  report(std::move(finding).with("found", entry.key).with("meaning", meaning));
  return true;
}

std::optional<bool> Evaluator::wanted(const std::string& path) {
  const Declared* table = state_->find_declared(path);
  if (table == nullptr) return std::nullopt;
  const Standing stands = state_->standing(state_->guards_of(*table));
  if (stands.kind == Standing::Kind::failed) return std::nullopt;
  return stands.kind == Standing::Kind::kept;
}

}  // namespace ribbay
