#pragma once

#include "catalogue/catalogue.hpp"

namespace ribbay::detail {

/// The schema of the entries of one kind.
SchemaPtr catalogue_schema_of(std::string_view kind);

/// Names of the faces as files write them, in the order of Face.
const std::vector<std::string>& face_names();

}  // namespace ribbay::detail
