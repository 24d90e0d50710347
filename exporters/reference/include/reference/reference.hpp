#pragma once

#include "layout/project.hpp"

#include <string>
#include <vector>

/// What parameter files may hold, told in several ways from the one set of schemas that also checks
/// them.
namespace ribbay {

/// A field of a table or of a table inside it.
struct ListedField {
  std::string path;  ///< "place.gap"; "holds.NAME.item" in named tables, "feet[].at" in lists
  const Field* field = nullptr;
};

/// All fields of a schema, those of inner tables behind the field that holds them.
std::vector<ListedField> listed_fields(const Schema& schema);

/// The parameter reference as Markdown: how values are written, every table with its fields, the
/// questions and facts of the van.
std::string reference_markdown();

/// JSON Schema (draft 2020-12) for editors: of project files, and of the stock and equipment files
/// that they include; and of vehicle files. What a file may leave to those it includes is not
/// required of it.
std::string project_json_schema();
std::string vehicle_json_schema();

}  // namespace ribbay
