#include "spec/evaluator.hpp"

#include "base/text.hpp"
#include "evaluator_state.hpp"
#include "merger.hpp"
#include "reuse.hpp"
#include "spec/fields.hpp"
#include "words.hpp"

#include <algorithm>
#include <cassert>

namespace ribbay {

using namespace detail;

namespace {

constexpr std::size_t kMostCandidates = 2000;  // names that are compared for a suggestion

std::pair<std::string_view, std::string_view> split_first(std::string_view path) {
  const std::size_t dot = path.find('.');
  if (dot == std::string_view::npos) return {path, {}};
  return {path.substr(0, dot), path.substr(dot + 1)};
}

std::string suggest(Finding& finding, std::string_view wrong, std::vector<std::string> candidates) {
  if (candidates.size() > kMostCandidates) candidates.resize(kMostCandidates);
  std::string near = nearest(wrong, candidates);
  if (!near.empty()) finding.with("nearest", near);
  return near;
}

}  // namespace

Evaluator::State::State(const Document& of, Resolvers with)
    : document(of), resolvers(std::move(with)) {
  const auto add = [&](std::string_view name, auto& entries) {
    const Node* table = document.root.find(name);
    if (table == nullptr || table->table() == nullptr) return;
    for (const Entry& entry : *table->table()) entries.emplace(entry.key, &entry);
  };
  add("values", value_entries);
  add("options", option_entries);
}

void Evaluator::State::report(Finding finding) {
  if (enough() || std::ranges::find(findings, finding) != findings.end()) return;
  if (finding.code == "expression.too_deep" && std::exchange(told_depth, true)) return;
  findings.push_back(std::move(finding));
  if (!enough()) return;
  findings.back() = input_error("input.more_errors", document.root.place)
                        .with("limit", static_cast<double>(kMostFindings), Unit::count);
}

const Declared* Evaluator::State::find_declared(std::string_view path) const {
  const auto found = declared.find(path);
  return found == declared.end() ? nullptr : &found->second;
}

/// Follows a dotted field through tables, named tables and lists.
std::optional<Spot> Evaluator::State::find_spot(const Declared& in, std::string_view field) const {
  Spot spot;
  spot.path = in.path;
  spot.place = in.place;
  spot.home = &in;
  const Schema* schema = in.schema.get();
  const Node* node = in.node();
  add_guard(spot.guards, in.path, *schema, node, &in);
  while (true) {
    const auto [first, rest] = split_first(field);
    spot.field = schema->find(first);
    if (spot.field == nullptr) return std::nullopt;
    spot.path += "." + std::string(first);
    node = node == nullptr ? nullptr : node->find(first);
    if (node != nullptr) spot.place = node->place;
    if (rest.empty()) {
      spot.node = node;
      drop_own_guard(spot);
      return spot;
    }
    field = rest;
    const bool named = spot.field->kind == FieldKind::keyed || spot.field->kind == FieldKind::list;
    if (!named && spot.field->kind != FieldKind::table) return std::nullopt;
    if (named) {
      const auto [entry, inside] = split_first(rest);
      node = child(node, entry);
      if (node == nullptr || inside.empty()) return std::nullopt;
      spot.path += "." + std::string(entry);
      spot.place = node->place;
      field = inside;
    }
    schema = spot.field->inner.get();
    if (schema == nullptr) return std::nullopt;
    if (named) add_guard(spot.guards, spot.path, *schema, node, &in);
  }
}

/// The field that `name` means, by path or by the alias of its table.
std::optional<Spot> Evaluator::State::find_field(std::string_view name) const {
  const auto [first, rest] = split_first(name);
  if (const auto alias = aliases.find(first); alias != aliases.end() && !rest.empty()) {
    const Declared& home = declared.find(alias->second)->second;
    if (auto spot = find_spot(home, rest)) return spot;
  }
  for (std::size_t dot = name.find('.'); dot != std::string_view::npos;
       dot = name.find('.', dot + 1)) {
    const Declared* home = find_declared(name.substr(0, dot));
    if (home == nullptr) continue;
    if (auto spot = find_spot(*home, name.substr(dot + 1))) return spot;
  }
  return std::nullopt;
}

// Order and cycles ------------------------------------------------------------------------------

/// True when `link` is being computed already: reports the way from it back to itself.
bool Evaluator::State::is_cycle(const Link& link) {
  const auto first = std::ranges::find_if(chain, [&](const Link& other) {
    return other.resolved == link.resolved && *other.name == *link.name;
  });
  if (first == chain.end()) return false;
  std::vector<std::string> names;
  std::vector<std::string> places;
  for (auto each = first; each != chain.end(); ++each) {
    names.push_back(*each->name);
    const std::string at = place_text(*each->place);
    if (std::ranges::find(places, at) == places.end()) places.push_back(at);
  }
  Finding finding = input_error("expression.cycle", *first->place);
  finding.subjects = names;
  names.push_back(*link.name);
  report(std::move(finding).with("path", join(names, " -> ")).with("places", join(places, ", ")));
  return true;
}

void Evaluator::State::enter(const Link& link) {
  if (chain.empty()) told_depth = false;
  chain.push_back(link);
}

const Computed& Evaluator::State::compute(const Spot& spot) {
  if (const auto known = fields.find(spot.path); known != fields.end()) {
    if (known->second.outcome != Computed::Outcome::absent) note(Use::Kind::field, spot.path);
    return known->second;
  }
  // Names lead to single fields only, so tables and lists can be no part of a cycle.
  const bool single = !holds_tables(*spot.field);
  if (single) {
    static const Computed failed;
    const Link link{&spot.path, &spot.place, false};
    if (is_cycle(link)) return failed;
    enter(link);
  }
  start_recording();
  Computed result = read_field(spot);
  result.uses = stop_recording();
  if (single) chain.pop_back();
  if (result.outcome != Computed::Outcome::absent) note(Use::Kind::field, spot.path);
  return fields.insert_or_assign(spot.path, std::move(result)).first->second;
}

/// The entry of [values] or [options] that `name` means: "lining", "values.lining".
std::optional<Evaluator::State::TopEntry> Evaluator::State::find_entry(
    std::string_view name) const {
  const auto [first, rest] = split_first(name);
  const auto find = [&, first = first, rest = rest](std::string_view table, const auto& entries) {
    const std::string_view key = first == table ? rest : rest.empty() ? first : rest.substr(0, 0);
    const auto found = entries.find(key);
    return found == entries.end() ? std::nullopt : std::optional(TopEntry{table, found->second});
  };
  const auto value = find("values", value_entries);
  return value ? value : find("options", option_entries);
}

Term Evaluator::State::compute_entry(const TopEntry& of) {
  ComputedEntry& computed = computed_entries[of.entry];
  if (computed.path == nullptr) computed.path = kept_name(of.path());
  note(Use::Kind::entry, computed.path);
  if (computed.done) return computed.term;
  const Node& node = of.entry->value;
  const Link link{computed.path, &node.place, false};
  if (std::exchange(computed.started, true)) {
    (void)is_cycle(link);
    return {};
  }
  enter(link);
  start_recording();
  const Wanted wanted{*computed.path, nullptr, std::nullopt, nullptr};
  if (!check_name(*computed.path, *of.entry) || is_reserved(*computed.path, *of.entry)) {
    // Its value cannot be asked for.
  } else if (of.table == "options") {
    const auto truth = condition(node, wanted, describe(when_field()));
    if (truth) computed.term = Term::of(*truth);
  } else if (const auto value = number(node, wanted, "a number, with unit where it has one")) {
    computed.term = Term::of(*value);
  }
  chain.pop_back();
  computed.uses = stop_recording();
  computed.done = true;
  return computed.term;
}

// Names -----------------------------------------------------------------------------------------

Term Evaluator::State::answered(Lookup answer, const Word& word) {
  if (answer.state == Lookup::State::known) return Term::of(answer.quantity);
  if (answer.finding) {
    if (!answer.finding->place) answer.finding->place = word.place();
    report(std::move(*answer.finding));
  }
  return {};
}

Lookup Evaluator::State::look_up(std::string_view name) {
  if (!resolvers.name) return {};
  start_recording();
  Lookup answer = resolvers.name(name);
  keep_answer(std::string(name), {}, answer, stop_recording());
  return answer;
}

/// The resolver's answer for a field that its table does not answer.
Lookup Evaluator::State::look_up_beyond(const Spot& spot) {
  const std::string& alias = spot.home->alias;
  return alias.empty() ? Lookup{} : look_up(alias + spot.path.substr(spot.home->path.size()));
}

/// A name that no table answers.
Term Evaluator::State::outside(std::string_view name, const Word& word, const Wanted& wanted) {
  Lookup answer = look_up(name);
  if (answer.state == Lookup::State::left_out) {
    if (wanted.guards != nullptr && is_left_out(*wanted.guards)) return {};
    Guards guards;
    return left_out_term(guard_of_name(name, guards), word, answer.quantity.dimension, false);
  }
  if (answer.state != Lookup::State::unknown_name) return answered(std::move(answer), word);
  unknown_name(word.text, wanted.home, word.place());
  return {};
}

void Evaluator::State::unknown_name(std::string_view name, const Declared* home,
                                    std::optional<Place> place) {
  if (enough()) return;
  const std::string_view first = split_first(name).first;
  if (is_misspelt(first) || in_unknown_table(first)) return;
  Finding finding = input_error("expression.unknown_name", {});
  finding.place = std::move(place);
  finding.subjects = {std::string(name)};
  suggest(finding, name, known_names(home));
  report(std::move(finding));
}

void Evaluator::State::not_given(const Spot& spot, std::optional<Place> place) {
  Finding finding = input_error("expression.not_given", {});
  finding.place = std::move(place);
  finding.subjects = {spot.path};
  report(std::move(finding).with("expected", describe(*spot.field)));
}

Term Evaluator::State::field_term(const Spot& spot, const Word& word, const Wanted& wanted) {
  const bool flag = spot.field->kind == FieldKind::flag;
  const Standing stands = standing(spot.guards);
  if (stands.kind == Standing::Kind::failed) return {};
  const bool left_out = stands.kind == Standing::Kind::left_out;
  if (left_out && (wanted.guards == nullptr || !is_left_out(*wanted.guards))) {
    return left_out_term(stands.by, word, spot.field->dimension, flag);
  }
  if (!has_term(*spot.field)) {
    // The layout may have a number of that name, such as the top of a module with a field for its
    // top board.
    Lookup other = look_up_beyond(spot);
    if (other.state != Lookup::State::unknown_name) return answered(std::move(other), word);
    Finding finding = input_error("expression.not_a_number", word.place());
    finding.subjects = {std::string(word.text)};
    report(std::move(finding).with("found", describe(*spot.field)));
    return {};
  }
  const Computed& computed = compute(spot);
  if (computed.ok()) {
    if (flag) return Term::of(std::get<bool>(computed.item.value));
    return Term::of(Quantity{std::get<double>(computed.item.value), spot.field->dimension});
  }
  if (computed.outcome == Computed::Outcome::failed) return {};
  // Not given: whoever lays the table out may know it nevertheless.
  Lookup answer = look_up_beyond(spot);
  if (answer.state != Lookup::State::unknown_name) return answered(std::move(answer), word);
  not_given(spot, word.place());
  return {};
}

Term Evaluator::State::name(const Word& word, const Wanted& wanted) {
  if (const auto entry = find_entry(word.text)) return compute_entry(*entry);
  const auto [first, rest] = split_first(word.text);
  if (first == "self" && !rest.empty()) {
    if (wanted.home == nullptr) {
      report(input_error("expression.no_self", word.place()));
      return {};
    }
    if (const auto spot = find_spot(*wanted.home, rest)) return field_term(*spot, word, wanted);
    const std::string& alias = wanted.home->alias;
    const std::string named =
        alias.empty() ? std::string(word.text) : alias + "." + std::string(rest);
    return outside(named, word, wanted);
  }
  if (const auto spot = find_field(word.text)) return field_term(*spot, word, wanted);
  return outside(word.text, word, wanted);
}

Term Evaluator::State::question(const Word& word, std::span<const Quantity> arguments) {
  start_recording();
  Lookup answer = resolvers.question ? resolvers.question(word.text, arguments) : Lookup{};
  keep_answer(question_text(word.text, arguments), arguments, answer, stop_recording());
  if (answer.state != Lookup::State::unknown_name) return answered(std::move(answer), word);
  std::vector<std::string> known = built_in_words();
  if (resolvers.known_questions) {
    const std::vector<std::string> more = resolvers.known_questions();
    known.insert(known.end(), more.begin(), more.end());
  }
  Finding finding = input_error("expression.unknown_question", word.place());
  finding.subjects = {std::string(word.text)};
  finding.with("known", join(known, ", "));
  suggest(finding, word.text, std::move(known));
  report(std::move(finding));
  return {};
}

std::vector<std::string> Evaluator::State::known_names(const Declared* home) const {
  std::vector<std::string> names;
  const auto add_fields = [&](const std::string& prefix, const Schema& schema) {
    for (const Field& field : schema.fields) {
      if (has_term(field)) names.push_back(prefix + "." + field.name);
    }
  };
  if (home != nullptr) add_fields("self", *home->schema);
  for (const std::string_view top : {"values", "options"}) {
    const Node* table = document.root.find(top);
    if (table == nullptr || table->table() == nullptr) continue;
    for (const Entry& entry : *table->table()) names.push_back(entry.key);
  }
  for (const auto& [alias, path] : aliases) add_fields(alias, *declared.at(path).schema);
  if (resolvers.known_names) {
    const std::vector<std::string> more = resolvers.known_names();
    names.insert(names.end(), more.begin(), more.end());
  }
  return names;
}

// The public face -------------------------------------------------------------------------------

Evaluator::Evaluator(const Document& document, Resolvers resolvers)
    : state_(std::make_unique<State>(document, std::move(resolvers))) {}

Evaluator::~Evaluator() = default;

void Evaluator::declare(const std::string& path, SchemaPtr schema, const std::string& alias) {
  Declared table{path, alias, std::move(schema), nullptr, state_->document.root.place};
  const Node* around = &state_->document.root;
  for (std::optional<std::string_view> rest = path; rest;) {
    // A key that itself has a dot is no valid name, but it must be found to be told so.
    const std::size_t dot = rest->find('.');
    if (around->table() == nullptr) break;
    const Entry* whole = find_entry(*around->table(), *rest);
    table.entry = whole != nullptr ? whole : find_entry(*around->table(), rest->substr(0, dot));
    if (table.entry == nullptr) break;
    around = &table.entry->value;
    table.place = around->place;
    const bool done = whole != nullptr || dot == std::string_view::npos;
    rest = done ? std::nullopt : std::optional(rest->substr(dot + 1));
  }
  state_->declared.insert_or_assign(path, std::move(table));
  if (!alias.empty()) state_->aliases.insert_or_assign(alias, path);
}

void Evaluator::use_currency(const std::string& code) {
  state_->currency = code;
}

std::optional<Record> Evaluator::record(const std::string& path) {
  state_->note(Use::Kind::table, path);
  if (const auto known = state_->made_records.find(path); known != state_->made_records.end())
    return known->second;
  const Declared* table = state_->find_declared(path);
  assert(table != nullptr && "record() of a table that was not declared");
  if (table == nullptr) return std::nullopt;
  state_->start_recording();
  const Guards guards = state_->guards_of(*table);
  auto record =
      state_->read_table(path, table->node(), table->place, *table->schema, table, guards);
  if (state_->standing(guards).kind != Standing::Kind::kept) record.reset();
  if (table->entry != nullptr && !state_->check_name(path, *table->entry)) record.reset();
  (void)state_->stop_recording();  // a table is made from all its fields
  state_->made_records.insert_or_assign(path, record);
  return record;
}

namespace {

/// The value of one field, when there is one and it is a T.
template <class T>
const T* value_of(const Computed& computed) {
  return computed.ok() ? std::get_if<T>(&computed.item.value) : nullptr;
}

/// The same of a declared table, by its path.
template <class T, class State>
std::optional<T> value_at(State& state, const std::string& path, std::string_view field) {
  const Declared* table = state.find_declared(path);
  const auto spot = table == nullptr ? std::nullopt : state.find_spot(*table, field);
  if (!spot) return std::nullopt;
  const auto* value = value_of<T>(state.compute(*spot));
  return value == nullptr ? std::nullopt : std::optional(*value);
}

}  // namespace

std::optional<double> Evaluator::number(const std::string& path, std::string_view field) {
  return value_at<double>(*state_, path, field);
}

std::optional<std::string> Evaluator::text(const std::string& path, std::string_view field) {
  return value_at<std::string>(*state_, path, field);
}

std::optional<std::vector<std::string>> Evaluator::texts(const std::string& path,
                                                         std::string_view field) {
  return value_at<std::vector<std::string>>(*state_, path, field);
}

std::optional<Record> Evaluator::table(const std::string& path, std::string_view field) {
  const Declared* table = state_->find_declared(path);
  const auto spot = table == nullptr ? std::nullopt : state_->find_spot(*table, field);
  if (!spot || spot->field->kind != FieldKind::table) return std::nullopt;
  const auto* only = value_of<std::vector<std::pair<std::string, Record>>>(state_->compute(*spot));
  return only == nullptr ? std::nullopt : std::optional(only->front().second);
}

bool Evaluator::has(const std::string& path, std::string_view field) const {
  const Declared* table = state_->find_declared(path);
  const auto spot = table == nullptr ? std::nullopt : state_->find_spot(*table, field);
  return spot && (spot->node != nullptr || !spot->field->fallback.empty());
}

Place Evaluator::place(const std::string& path) const {
  const Declared* table = state_->find_declared(path);
  return table == nullptr ? state_->document.root.place : table->place;
}

Lookup Evaluator::remember(const std::string& name, const Place& place,
                           const std::function<Lookup()>& compute) {
  state_->note(Use::Kind::step, name);
  if (const auto known = state_->remembered.find(name); known != state_->remembered.end()) {
    return known->second.answer;
  }
  const State::Link link{&name, &place, true};
  if (state_->is_cycle(link)) return Lookup::reported();
  state_->enter(link);
  state_->start_recording();
  Lookup answer = compute();
  Uses uses = state_->stop_recording();
  state_->chain.pop_back();
  // A reason is handed out once; who asks again finds a failure that has been told.
  const Lookup later = answer.state == Lookup::State::failed ? Lookup::reported() : answer;
  state_->remembered.insert_or_assign(name, Remembered{later, std::move(uses)});
  return answer;
}

void Evaluator::check_values() {
  state_->check_entries("values");
  state_->check_entries("options");
  state_->check_clashes("values");
  state_->check_clashes("options");
}

namespace {

/// A table that --set has made, since nothing had that name: what was meant is more likely a table
/// inside another, such as a module.
Finding set_unknown(const Entry& entry, const Node& root, std::vector<std::string> candidates) {
  Finding finding = input_error("input.set_unknown", entry.key_place);
  finding.subjects = {entry.key};
  for (const Entry& top : *root.table()) {
    if (top.value.table() == nullptr) continue;
    for (const Entry& inner : *top.value.table()) candidates.push_back(inner.key);
  }
  suggest(finding, entry.key, std::move(candidates));
  return finding;
}

}  // namespace

void Evaluator::check_top_level(const std::vector<std::string>& allowed) {
  for (const Entry& entry : *state_->document.root.table()) {
    if (std::ranges::find(allowed, entry.key) != allowed.end()) continue;
    if (state_->enough()) return;
    if (entry.key_place.file == "--set") {
      state_->report(set_unknown(entry, state_->document.root, allowed));
      continue;
    }
    Finding finding = input_error("input.unknown_table", entry.key_place);
    finding.subjects = {entry.key};
    finding.with("allowed", join(allowed, ", "));
    const std::string near = suggest(finding, entry.key, allowed);
    if (!near.empty()) state_->misspelt.push_back(near);
    state_->unknown_tables.push_back(&entry);
    state_->report(std::move(finding));
  }
}

bool Evaluator::State::is_misspelt(std::string_view top) const {
  return document.root.find(top) == nullptr && std::ranges::find(misspelt, top) != misspelt.end();
}

bool Evaluator::State::in_unknown_table(std::string_view key) const {
  return std::ranges::any_of(unknown_tables,
                             [&](const Entry* table) { return table->value.find(key) != nullptr; });
}

bool Evaluator::is_misspelt(std::string_view top) const {
  return state_->is_misspelt(top);
}

bool Evaluator::in_unknown_table(std::string_view key) const {
  return state_->in_unknown_table(key);
}

const Findings& Evaluator::findings() const {
  return state_->findings;
}

Findings Evaluator::take_findings() {
  return std::exchange(state_->findings, {});
}

}  // namespace ribbay
