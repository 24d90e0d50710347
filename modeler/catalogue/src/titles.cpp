#include "catalogue/titles.hpp"

namespace ribbay {

std::string stock_title(const Catalogue& catalogue, std::string_view key) {
  std::string title;
  const auto look = [&](const auto& entries) {
    const auto found = entries.find(key);
    if (title.empty() && found != entries.end()) title = found->second.title;
  };
  look(catalogue.profiles);
  look(catalogue.sheets);
  look(catalogue.planks);
  look(catalogue.finishes);
  look(catalogue.slides);
  look(catalogue.hinges);
  look(catalogue.butt_hinges);
  look(catalogue.brackets);
  look(catalogue.plates);
  look(catalogue.connectors);
  look(catalogue.bolts);
  look(catalogue.nuts);
  look(catalogue.dowels);
  look(catalogue.gaskets);
  look(catalogue.handles);
  look(catalogue.fittings);
  look(catalogue.equipment);
  return title.empty() ? std::string(key) : title;
}

}  // namespace ribbay
