#include "base/text.hpp"
#include "evaluator_state.hpp"
#include "reuse.hpp"
#include "toml_text.hpp"
#include "units.hpp"

#include <algorithm>
#include <deque>
#include <set>

/// Which values a value was made from, and the tree of where it comes from.
namespace ribbay {

using namespace detail;

namespace detail {

bool has_term(const Field& field) {
  return field.kind == FieldKind::quantity || field.kind == FieldKind::count ||
         field.kind == FieldKind::flag;
}

bool holds_tables(const Field& field) {
  return field.kind == FieldKind::table || field.kind == FieldKind::keyed ||
         field.kind == FieldKind::list;
}

std::string question_text(std::string_view word, std::span<const Quantity> arguments) {
  std::vector<std::string> texts;
  for (const Quantity& each : arguments) texts.push_back(quantity_text(each.value, each.dimension));
  return std::string(word) + "(" + join(texts, ", ") + ")";
}

}  // namespace detail

// While values are computed ---------------------------------------------------------------------

void Evaluator::State::note(Use::Kind kind, const std::string* kept) {
  if (!recording.empty()) recording.back().push_back({kind, kept});
}

void Evaluator::State::note(Use::Kind kind, const std::string& name) {
  if (!recording.empty()) note(kind, kept_name(name));
}

/// The innermost recording, each use once.
Uses Evaluator::State::stop_recording() {
  Uses uses = std::move(recording.back());
  recording.pop_back();
  if (uses.size() < 2) return uses;
  std::set<std::pair<Use::Kind, const std::string*>> known;
  std::erase_if(uses, [&](const Use& use) { return !known.emplace(use.kind, use.name).second; });
  return uses;
}

void Evaluator::State::keep_answer(const std::string& name, std::span<const Quantity> arguments,
                                   const Lookup& answer, Uses uses) {
  const bool told = answer.state == Lookup::State::known || answer.state == Lookup::State::failed;
  if (!told) return;
  const bool known = answer.state == Lookup::State::known;
  answers.try_emplace(name, Answer{known ? std::optional(answer.quantity) : std::nullopt,
                                   {arguments.begin(), arguments.end()},
                                   std::move(uses)});
  note(Use::Kind::answer, name);
}

// The tree --------------------------------------------------------------------------------------

namespace {

/// A value as it would be written: "2 * lining", "40", "[oak, birch]".
std::string node_text(const Node& node) {
  if (node.text() != nullptr) return *node.text();
  if (const auto* flag = std::get_if<bool>(&node.value)) return *flag ? "true" : "false";
  if (const auto* whole = std::get_if<std::int64_t>(&node.value)) return std::to_string(*whole);
  if (const auto* real = std::get_if<double>(&node.value)) return number_text(*real);
  if (const auto* date = std::get_if<Node::Date>(&node.value)) return date->text;
  if (node.array() == nullptr) return {};
  std::vector<std::string> items;
  for (const Node& item : *node.array()) items.push_back(node_text(item));
  return "[" + join(items, ", ") + "]";
}

Origin::Item item_of(const Size& size) {
  if (size.share == 0.0) return {{}, Quantity{size.mm, dimension::length}};
  return {number_text(size.share) + (size.share == 1.0 ? " share" : " shares"), std::nullopt};
}

/// A computed value that is no single number; empty for tables.
std::vector<Origin::Item> answer_of(const Field& field, const Record::Value& value) {
  std::vector<Origin::Item> items;
  const auto add = [&](const std::string& text) { items.push_back({shown(text), std::nullopt}); };
  if (const auto* flag = std::get_if<bool>(&value)) add(*flag ? "true" : "false");
  if (const auto* text = std::get_if<std::string>(&value)) add(*text);
  if (const auto* texts = std::get_if<std::vector<std::string>>(&value)) {
    for (const std::string& each : *texts) add(each);
  }
  if (const auto* numbers = std::get_if<std::vector<double>>(&value)) {
    for (const double each : *numbers) items.push_back({{}, Quantity{each, field.dimension}});
  }
  if (const auto* sizes = std::get_if<std::vector<Size>>(&value)) {
    for (const Size& each : *sizes) items.push_back(item_of(each));
  }
  return items;
}

void put_written(Origin& origin, const Node& node) {
  origin.kind = Origin::Kind::written;
  origin.written = shown(node_text(node));
  origin.place = node.place;
  origin.earlier = node.earlier;
}

}  // namespace

/// The table in which the node at `path` really stands, when that came to it through its base.
std::string Evaluator::State::inherited_from(const std::string& path, const Node& node) const {
  const std::size_t dot = path.find('.', path.find('.') + 1);
  if (dot == std::string::npos) return {};
  std::string table = path.substr(0, dot);
  std::string from;
  while (true) {
    const auto based = std::ranges::lower_bound(document.based_on, table, {}, &BasedOn::table);
    if (based == document.based_on.end() || based->table != table) return from;
    const Node* below = find_node(document.root, based->base + path.substr(dot));
    if (below == nullptr || below->place != node.place) return from;
    table = from = based->base;
  }
}

Origin Evaluator::State::origin_of(const Spot& spot) {
  Origin origin;
  origin.path = spot.path;
  if (spot.node != nullptr) {
    put_written(origin, *spot.node);
    origin.inherited_from = inherited_from(spot.path, *spot.node);
  } else {
    origin.kind = Origin::Kind::fallback;
    origin.written = spot.field->fallback;
  }
  const Computed& computed = compute(spot);
  if (!computed.ok()) return origin;
  if (const auto* number = std::get_if<double>(&computed.item.value)) {
    origin.value = Quantity{*number, spot.field->dimension};
  } else {
    origin.answer = answer_of(*spot.field, computed.item.value);
  }
  return origin;
}

/// One node of the tree, without its uses; nullopt for what cannot be found again.
std::optional<Origin> Evaluator::State::origin_of(const Use& use) {
  Origin origin;
  origin.path = *use.name;
  switch (use.kind) {
    case Use::Kind::field: {
      const auto spot = find_field(*use.name);
      return spot ? std::optional(origin_of(*spot)) : std::nullopt;
    }
    case Use::Kind::table: {
      const Declared* table = find_declared(*use.name);
      if (table == nullptr || table->node() == nullptr) return std::nullopt;
      put_written(origin, *table->node());
      return origin;
    }
    case Use::Kind::entry: {
      const TopEntry entry = *find_entry(*use.name);
      put_written(origin, entry.entry->value);
      const Term term = compute_entry(entry);
      if (term.kind == Term::Kind::number) origin.value = term.quantity;
      if (term.kind == Term::Kind::condition) {
        origin.answer = {{term.truth ? "true" : "false", std::nullopt}};
      }
      return origin;
    }
    case Use::Kind::answer:
    case Use::Kind::step: {
      const auto found = answers.find(*use.name);
      if (found == answers.end()) return std::nullopt;
      origin.kind = Origin::Kind::answered;
      origin.value = found->second.quantity;
      origin.arguments = found->second.arguments;
      return origin;
    }
  }
  return std::nullopt;
}

void Evaluator::State::add_written_fields(const std::string& path, const Schema& schema,
                                          const Node& node, Uses& found) {
  for (const Field& field : schema.fields) {
    if (found.size() > Origin::kMostNodes) return;
    if (node.find(field.name) == nullptr) continue;
    found.push_back({Use::Kind::field, kept_name(path + "." + field.name)});
  }
}

/// What is written in a field that holds tables.
Uses Evaluator::State::written_fields(const Spot& spot) {
  Uses found;
  if (spot.node == nullptr) return found;
  const Schema& inner = *spot.field->inner;
  if (spot.field->kind == FieldKind::table) {
    add_written_fields(spot.path, inner, *spot.node, found);
  } else if (const Node::Array* items = spot.node->array()) {
    for (std::size_t i = 0; i < items->size(); ++i) {
      add_written_fields(spot.path + "." + std::to_string(i + 1), inner, (*items)[i], found);
    }
  } else if (const Node::Table* entries = spot.node->table()) {
    for (const Entry& entry : *entries) {
      add_written_fields(spot.path + "." + entry.key, inner, entry.value, found);
    }
  }
  return found;
}

/// What stands behind a use, one level down. Steps of the program's own are looked through.
Uses Evaluator::State::uses_of(const Use& use) {
  Uses direct;
  if (use.kind == Use::Kind::field) {
    const auto spot = find_field(*use.name);
    if (!spot) return {};
    direct = holds_tables(*spot->field) ? written_fields(*spot) : compute(*spot).uses;
  } else if (use.kind == Use::Kind::table) {
    const Declared& table = *find_declared(*use.name);
    if (table.node() != nullptr)
      add_written_fields(table.path, *table.schema, *table.node(), direct);
  } else if (use.kind == Use::Kind::entry) {
    direct = computed_entries.at(find_entry(*use.name)->entry).uses;
  } else if (use.kind == Use::Kind::answer) {
    direct = answers.find(*use.name)->second.uses;
  }
  Uses through;
  std::set<const std::string*> steps;
  std::vector<Use> open(direct.rbegin(), direct.rend());
  while (!open.empty()) {
    const Use next = open.back();
    open.pop_back();
    if (next.kind != Use::Kind::step) {
      if (std::ranges::find(through, next) == through.end()) through.push_back(next);
      if (through.size() > Origin::kMostNodes) break;
      continue;
    }
    const auto step = remembered.find(*next.name);
    if (step == remembered.end() || !steps.insert(next.name).second) continue;
    open.insert(open.end(), step->second.uses.rbegin(), step->second.uses.rend());
  }
  return through;
}

/// Level by level, so that what a limit cuts off is what lies deepest.
Origin Evaluator::State::origin_tree(const Use& root) {
  struct Open {
    Origin* node;
    Use use;
    std::size_t level;
  };
  Origin tree = *origin_of(root);
  std::set<std::string> shown_above = {tree.path};
  std::size_t nodes = 1;
  std::deque<Open> open = {{&tree, root, 0}};
  for (; !open.empty(); open.pop_front()) {
    const auto [node, use, level] = open.front();
    const Uses uses = uses_of(use);
    if (uses.empty()) continue;
    if (level >= Origin::kDeepest || nodes + uses.size() > Origin::kMostNodes) {
      node->shortened = true;
      continue;
    }
    std::vector<Use> kept;
    for (const Use& each : uses) {
      if (auto origin = origin_of(each)) {
        node->uses.push_back(std::move(*origin));
        kept.push_back(each);
      }
    }
    nodes += kept.size();
    for (std::size_t i = 0; i < kept.size(); ++i) {
      Origin& below = node->uses[i];
      if (shown_above.insert(below.path).second) {
        open.push_back({&below, kept[i], level + 1});
      } else {
        below.shortened = !uses_of(kept[i]).empty();
      }
    }
  }
  return tree;
}

/// What `name` means: a path, or a name as an expression would write it. Reports why not.
std::optional<Use> Evaluator::State::named_use(const std::string& name) {
  const auto made = [&](Use::Kind kind, const std::string& whole) {
    return Use{kind, kept_name(whole)};
  };
  if (const auto entry = find_entry(name)) {
    (void)compute_entry(*entry);
    return made(Use::Kind::entry, entry->path());
  }
  const auto alias = aliases.find(name);
  const Declared* table = find_declared(alias == aliases.end() ? name : alias->second);
  if (table != nullptr && table->node() != nullptr) return made(Use::Kind::table, table->path);

  const auto spot = find_field(name);
  if (spot && (has_term(*spot->field) || name == spot->path)) {
    if (compute(*spot).outcome != Computed::Outcome::absent)
      return made(Use::Kind::field, spot->path);
  }
  // The layout may know more than the files do.
  const std::string beyond = spot && !spot->home->alias.empty()
                                 ? spot->home->alias + spot->path.substr(spot->home->path.size())
                                 : name;
  const Lookup answer = look_up(beyond);
  if (answer.finding) {
    report(*answer.finding);
    return std::nullopt;
  }
  if (answer.state == Lookup::State::left_out) {
    Guards guards;
    left_out(guard_of_name(beyond, guards), name, std::nullopt);
    return std::nullopt;
  }
  if (answer.state != Lookup::State::unknown_name) return made(Use::Kind::answer, beyond);
  if (spot && compute(*spot).outcome != Computed::Outcome::absent) {
    return made(Use::Kind::field, spot->path);
  }
  if (spot) {
    not_given(*spot, std::nullopt);
  } else {
    unknown_name(name, nullptr, std::nullopt);
  }
  return std::nullopt;
}

// The public face -------------------------------------------------------------------------------

Lookup Evaluator::ask(std::string_view name) {
  return state_->look_up(name);
}

void Evaluator::used(std::string_view question, std::span<const Quantity> arguments,
                     const Quantity& value) {
  state_->keep_answer(question_text(question, arguments), arguments,
                      {Lookup::State::known, value, {}}, {});
}

std::optional<Origin> Evaluator::origin(const std::string& name) {
  const auto use = state_->named_use(name);
  if (!use) return std::nullopt;
  return state_->origin_tree(*use);
}

}  // namespace ribbay
