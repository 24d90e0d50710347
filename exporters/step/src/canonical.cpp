#include "canonical.hpp"

#include "base/text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdint>
#include <span>
#include <tuple>
#include <utility>
#include <vector>

namespace ribbay::detail {

namespace {

constexpr std::string_view kOccurrence = "NEXT_ASSEMBLY_USAGE_OCCURRENCE('";
/// Sets of styled items, which the writer fills in the order of addresses.
constexpr std::array<std::string_view, 2> kUnordered{
    "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION(", "DRAUGHTING_MODEL("};

/// An entity: text[0] #references[0] text[1] #references[1] ... text[n].
struct Entity {
  std::vector<std::string> text;
  std::vector<std::size_t> references;  ///< numbers of entities
  std::string hash;                     ///< empty until known
  std::size_t number = 0;               ///< its new number; 0 until known
};

/// Entities by their number in the file; numbers that the file does not use have no text.
using Entities = std::vector<Entity>;

void append_hex(std::string& out, std::uint32_t value, int digits) {
  constexpr std::string_view hex = "0123456789ABCDEF";
  for (int shift = 4 * (digits - 1); shift >= 0; shift -= 4) {
    out += hex[(value >> static_cast<unsigned>(shift)) & 15U];
  }
}

/// One character of UTF-8 at `at`, which moves behind it. A stray byte counts as a character of
/// Latin-1.
std::uint32_t next_character(std::string_view text, std::size_t& at) {
  const auto byte = [&](std::size_t i) {
    return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i]));
  };
  const std::uint32_t lead = byte(at);
  const std::size_t more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
  std::uint32_t value = more == 0 ? lead : lead & (0x3FU >> more);
  const std::size_t end = at + 1 + more;
  if (end > text.size()) return byte(at++);
  for (std::size_t i = at + 1; i < end; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return byte(at++);
    value = (value << 6U) | (byte(i) & 0x3FU);
  }
  at = end;
  return value;
}

/// Characters outside ASCII as ISO 10303-21 writes them: \X2\ with four digits, \X4\ with eight.
std::string escaped(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    if (static_cast<unsigned char>(text[at]) < 0x80) {
      out += text[at++];
      continue;
    }
    const std::uint32_t character = next_character(text, at);
    const bool wide = character > 0xFFFF;
    out += wide ? "\\X4\\" : "\\X2\\";
    append_hex(out, character, wide ? 8 : 4);
    out += "\\X0\\";
  }
  return out;
}

/// Reads "#number" at `at`, which moves behind it; 0 when there is none.
std::size_t next_number(std::string_view data, std::size_t& at) {
  std::size_t number = 0;
  if (at >= data.size() || data[at] != '#') return 0;
  const auto [end, error] =
      std::from_chars(data.data() + at + 1, data.data() + data.size(), number);
  at = static_cast<std::size_t>(end - data.data());
  return error == std::errc{} && number <= data.size() ? number : 0;
}

/// Reads what stands between "=" and ";". Spaces and line breaks are the writer's; inside a string
/// only the breaks are (long strings are split).
bool read_body(std::string_view data, std::size_t& at, Entity& entity) {
  bool in_string = false;
  entity.text = {{}};
  while (at < data.size()) {
    const char c = data[at];
    if (c == '#' && !in_string) {
      entity.references.push_back(next_number(data, at));
      if (entity.references.back() == 0) return false;
      entity.text.emplace_back();
      continue;
    }
    ++at;
    if (c == ';' && !in_string) return true;
    if (c == '\'') in_string = !in_string;
    if (c != '\n' && c != '\r' && (c != ' ' || in_string)) entity.text.back() += c;
  }
  return false;
}

/// The entities of a data section; empty when it is not sound.
Entities read_entities(std::string_view data) {
  Entities entities;
  std::size_t at = 0;
  const auto skip_to = [&](char wanted) {
    while (at < data.size() && data[at] != wanted) ++at;
    return at < data.size();
  };
  while (skip_to('#')) {
    const std::size_t number = next_number(data, at);
    if (number == 0 || !skip_to('=')) return {};
    if (number >= entities.size()) entities.resize(number + 1);
    ++at;
    if (!read_body(data, at, entities[number])) return {};
  }
  for (const Entity& entity : entities) {
    for (const std::size_t r : entity.references) {
      if (r >= entities.size() || entities[r].text.empty()) return {};
    }
  }
  return entities;
}

/// Calls visit(number) for everything that `root` refers to and then for `root`, each once: for
/// those whose `done` answers false.
template <class Done, class Visit>
void visit_upwards(const Entities& entities, std::size_t root, const Done& done,
                   const Visit& visit) {
  std::vector<std::pair<std::size_t, std::size_t>> stack{{root, 0}};  // entity, its next reference
  while (!stack.empty()) {
    auto& [number, next] = stack.back();
    if (next < entities[number].references.size()) {
      const std::size_t r = entities[number].references[next++];
      if (!done(r)) stack.emplace_back(r, 0);
      continue;
    }
    const std::size_t finished = number;
    stack.pop_back();
    if (!done(finished)) visit(finished);
  }
}

bool is_unordered(const Entity& entity) {
  return std::ranges::any_of(
      kUnordered, [&](std::string_view type) { return entity.text.front().starts_with(type); });
}

/// The new numbers of what is reached first from an entity, as far as it is numbered: tells
/// entities of equal content apart by what they belong to.
std::vector<std::size_t> numbered_below(const Entities& entities, std::size_t number) {
  std::vector<std::size_t> found;
  std::vector<std::size_t> stack{number};
  while (!stack.empty()) {
    const Entity& entity = entities[stack.back()];
    stack.pop_back();
    if (entity.number != 0) {
      found.push_back(entity.number);
      continue;
    }
    stack.insert(stack.end(), entity.references.rbegin(), entity.references.rend());
  }
  return found;
}

/// Sorts the first list of references of a set by fingerprint, and members of equal content by
/// numbered_below() once there are numbers.
void sort_members(const Entities& entities, Entity& set, bool numbered) {
  const auto begin = static_cast<std::ptrdiff_t>(
      std::ranges::find_if(set.text, [](const std::string& t) { return t.ends_with('('); }) -
      set.text.begin());
  const auto end = std::find_if(set.text.begin() + begin + 1, set.text.end(),
                                [](const std::string& t) { return t.starts_with(')'); }) -
                   set.text.begin();
  const auto order = [&](std::size_t member) {
    return std::pair(std::string_view(entities[member].hash),
                     numbered ? numbered_below(entities, member) : std::vector<std::size_t>());
  };
  std::stable_sort(set.references.begin() + begin, set.references.begin() + end,
                   [&](std::size_t a, std::size_t b) { return order(a) < order(b); });
}

void fingerprint_entity(Entities& entities, std::size_t number) {
  Entity& entity = entities[number];
  std::string& first = entity.text.front();
  if (first.starts_with(kOccurrence))
    first.erase(kOccurrence.size(), first.find('\'', kOccurrence.size()) - kOccurrence.size());
  if (is_unordered(entity)) sort_members(entities, entity, false);
  std::string unfolded = first;
  for (std::size_t i = 0; i < entity.references.size(); ++i) {
    unfolded += '#' + entities[entity.references[i]].hash + entity.text[i + 1];
  }
  entity.hash = fingerprint(unfolded);
}

/// What nothing refers to, by type and content.
std::vector<std::size_t> sorted_roots(const Entities& entities) {
  std::vector<bool> used(entities.size());
  for (const Entity& entity : entities) {
    for (const std::size_t r : entity.references) used[r] = true;
  }
  std::vector<std::size_t> roots;
  for (std::size_t i = 1; i < entities.size(); ++i) {
    if (!used[i] && !entities[i].text.empty()) roots.push_back(i);
  }
  std::ranges::stable_sort(roots, [&](std::size_t a, std::size_t b) {
    const auto type = [&](std::size_t i) {
      const std::string& text = entities[i].text.front();
      return std::string_view(text).substr(0, text.find('('));
    };
    return std::tuple(type(a), std::string_view(entities[a].hash)) <
           std::tuple(type(b), std::string_view(entities[b].hash));
  });
  return roots;
}

/// Numbers all entities and returns them in their new order. Sets come last: by then the solids
/// have their numbers from the products they belong to, which tell styled items of equal content
/// apart.
std::vector<std::size_t> new_order(Entities& entities) {
  std::vector<std::size_t> order;
  const auto number_all = [&](std::span<const std::size_t> roots) {
    for (const std::size_t root : roots) {
      visit_upwards(
          entities, root, [&](std::size_t i) { return entities[i].number != 0; },
          [&](std::size_t i) {
            order.push_back(i);
            entities[i].number = order.size();
          });
    }
  };
  std::vector<std::size_t> roots = sorted_roots(entities);
  const auto sets = std::ranges::stable_partition(
      roots, [&](std::size_t r) { return !is_unordered(entities[r]); });
  number_all({roots.begin(), sets.begin()});
  for (const std::size_t set : sets) sort_members(entities, entities[set], true);
  std::ranges::stable_sort(sets, {}, [&](std::size_t set) {
    return std::pair(std::string_view(entities[set].hash), numbered_below(entities, set));
  });
  number_all({sets.begin(), sets.end()});
  return order;
}

}  // namespace

std::string canonical_step(std::string_view text) {
  constexpr std::string_view begin_mark = "\nDATA;";
  constexpr std::string_view end_mark = "\nENDSEC;";
  const std::size_t begin = text.find(begin_mark);
  const std::size_t end = text.rfind(end_mark);
  if (begin == std::string_view::npos || end == std::string_view::npos || end < begin) return {};
  const std::size_t data = begin + begin_mark.size();
  Entities entities = read_entities(text.substr(data, end - data));
  if (entities.empty()) return {};
  for (std::size_t i = 1; i < entities.size(); ++i) {
    if (entities[i].text.empty()) continue;
    visit_upwards(
        entities, i, [&](std::size_t e) { return !entities[e].hash.empty(); },
        [&](std::size_t e) { fingerprint_entity(entities, e); });
  }

  std::string out = escaped(text.substr(0, data));
  std::size_t occurrences = 0;
  for (const std::size_t i : new_order(entities)) {
    Entity& entity = entities[i];
    if (entity.text.front().starts_with(kOccurrence)) {
      entity.text.front().insert(kOccurrence.size(), std::to_string(++occurrences));
    }
    out += "\n#" + std::to_string(entity.number) + '=' + escaped(entity.text.front());
    for (std::size_t k = 0; k < entity.references.size(); ++k) {
      out +=
          '#' + std::to_string(entities[entity.references[k]].number) + escaped(entity.text[k + 1]);
    }
    out += ';';
  }
  return out + std::string(text.substr(end));
}

}  // namespace ribbay::detail
