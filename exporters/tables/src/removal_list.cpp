#include "base/text.hpp"
#include "base/ways.hpp"
#include "layout/removals.hpp"
#include "table_text.hpp"
#include "tables/csv.hpp"
#include "tables/tables.hpp"

namespace ribbay {

using namespace detail;

OutputFile removal_list(const Layout& layout) {
  const LengthStyle show = layout.project.show;
  Rows rows = {{"part", "title", "life in years", "step", "do", "what", "fasteners", "tool", "way",
                "travel" + size_unit(show), "ids"}};
  for (const Removal* removal : equipment_removals(layout)) {
    const std::string life =
        removal->life_years > 0.0 ? rounded_text(removal->life_years, 1) : std::string();
    int count = 0;
    for (const RemovalStep& step : removal_steps(layout, *removal)) {
      const bool moves = length(step.direction) > 0.0;
      rows.push_back({removal->id, layout.find(removal->id)->title, life, std::to_string(++count),
                      std::string(name(step.act)), step.what,
                      step.count > 0 ? std::to_string(step.count) : std::string(), step.tool,
                      moves ? van_way_text(step.direction) : std::string(),
                      moves ? size_text(step.travel, show) : std::string(), join(step.ids, "; ")});
    }
  }
  return {"shop/removal.csv", csv_text(rows), "how each piece of equipment is taken out, in order"};
}

}  // namespace ribbay
