#pragma once

#include "layout/layout.hpp"
#include "spec/record.hpp"
#include "spec/schema.hpp"

namespace ribbay::detail {

/// Schema of [price.KEY].
SchemaPtr price_schema();
/// Schema of [rates].
SchemaPtr rates_schema();

/// Findings: "price.no_such_stock" and "price.amount" (an amount that what is bought is not sold
/// by, or none); then nothing is returned.
std::optional<Price> read_price(const std::string& key, const Record& record,
                                const Catalogue& catalogue, Findings& findings);
Rates read_rates(const Record& record);

/// "rates.no_such_module" where [rates] names a module that nobody planned.
void check_rates(const Record& record, const std::vector<std::string>& modules,
                 Findings& findings);

}  // namespace ribbay::detail
