#include "holds.hpp"

#include "base/text.hpp"
#include "spec/fields.hpp"
#include "workshop.hpp"

#include <algorithm>

namespace ribbay::detail {

std::vector<Field> held_item_fields() {
  return {reference_field("item", "equipment").means("what stands there"),
          FieldMaker("candidates", FieldKind::texts)
              .items(1, 20)
              .means("equipment that could stand there: each is tried and compared, and the first "
                     "that fits is built; with item as well, that one is")};
}

const Equipment* held_item(const ModuleRequest& request, const Record& held, const std::string& id,
                           Findings& findings) {
  const auto tell = [&](std::string code, const Place& place) -> Finding& {
    Finding& finding = findings.emplace_back(input_error(std::move(code), place));
    finding.subjects = {id};
    return finding;
  };
  const std::vector<std::string> known = request.catalogue.keys("equipment").value();
  if (held.has("candidates")) {
    for (const std::string& key : held.texts("candidates")) {
      if (std::ranges::binary_search(known, key)) continue;
      const std::string near = nearest(key, known);
      tell("holds.unknown", held.place("candidates"))
          .with("found", key)
          .with("known", join(known, ", "))
          .with("mend", near.empty() ? "one of these" : near);
      return nullptr;
    }
  }
  if (held.has("item")) return &bought(request, request.catalogue.equipment, held.text("item"));
  if (held.has("candidates")) {
    return &bought(request, request.catalogue.equipment, held.texts("candidates").front());
  }
  tell("holds.nothing", held.place());
  return nullptr;
}

}  // namespace ribbay::detail
