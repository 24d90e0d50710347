#include "holds.hpp"

#include "base/text.hpp"
#include "spec/fields.hpp"
#include "workshop.hpp"

#include <algorithm>
#include <iterator>

namespace ribbay::detail {

std::vector<Field> held_item_fields(std::string meaning) {
  return {reference_field("item", "equipment").means(std::move(meaning)),
          FieldMaker("candidates", FieldKind::texts)
              .items(1, 20)
              .means("equipment that could stand there: each is tried and compared, and the first "
                     "that fits is built; with item as well, that one is")};
}

std::vector<Field> held_item_fields(std::string meaning, std::vector<Field> others) {
  std::vector<Field> fields = held_item_fields(std::move(meaning));
  std::ranges::move(others, std::back_inserter(fields));
  return fields;
}

const char* held_item_field(const Record& held) {
  return held.has("item") ? "item" : "candidates";
}

const Equipment* held_item(const ModuleRequest& request, const Record& held, const std::string& id,
                           Findings& findings) {
  const auto tell = [&](std::string code, const Place& place) -> Finding& {
    Finding& finding = findings.emplace_back(input_error(std::move(code), place));
    finding.subjects = {id};
    return finding;
  };
  if (!held.has("candidates")) {
    if (held.has("item")) return &bought(request, request.catalogue.equipment, held.text("item"));
    tell("holds.nothing", held.place());
    return nullptr;
  }
  const std::vector<std::string>& candidates = held.texts("candidates");
  const std::vector<std::string> known = request.catalogue.keys("equipment").value();
  for (const std::string& key : candidates) {
    if (std::ranges::binary_search(known, key)) continue;
    const std::string near = nearest(key, known);
    tell("holds.unknown", held.place("candidates"))
        .with("found", key)
        .with("known", join(known, ", "))
        .with("mend", near.empty() ? "one of these" : near);
    return nullptr;
  }
  if (!held.has("item"))
    return &bought(request, request.catalogue.equipment, candidates.front());
  const std::string& item = held.text("item");
  if (std::ranges::find(candidates, item) == candidates.end()) {
    tell("holds.not_listed", held.place("item"))
        .with("found", item)
        .with("known", join(candidates, ", "));
    return nullptr;
  }
  return &bought(request, request.catalogue.equipment, item);
}

const Equipment* held_item(const EarlyFields& early) {
  std::optional<std::string> key = early.evaluator.text(early.path, "item");
  if (!key) {
    const auto candidates = early.evaluator.texts(early.path, "candidates");
    if (!candidates || candidates->empty()) return nullptr;
    key = candidates->front();
  }
  const auto found = early.catalogue.equipment.find(*key);
  return found == early.catalogue.equipment.end() ? nullptr : &found->second;
}

}  // namespace ribbay::detail
