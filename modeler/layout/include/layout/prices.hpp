#pragma once

#include <map>
#include <string>

namespace ribbay {

/// What something of the catalogue costs where this builder buys it.
struct Price {
  std::string key;      ///< of the catalogue
  bool finish = false;  ///< a finish has that key; a sheet may have it too
  double money = 0.0;   ///< of one package, in the project's currency
  double amount = 1.0;  ///< in a package: mm of bars, planks and edge bands, mm2 of film, mm3 of
                        ///< paint and oil; pieces of everything else
  int spare = 0;        ///< pieces that are bought beyond those needed
};

/// How long the work takes, in seconds, and what it costs.
struct Rates {
  double hour = 0.0;  ///< price of an hour, in the project's currency
  double cut = 0.0;   ///< for each saw cut
  double hole = 0.0;
  double joint = 0.0;
  double panel = 0.0;  ///< edges broken and sanded
  std::map<std::string, double> modules;  ///< beyond that, by name: fitting, finishing
  double markup = 0.0;       ///< share of the material's price
  double contingency = 0.0;  ///< share of all
  std::string customer;
};

}  // namespace ribbay
