#pragma once

#include "layout/layout.hpp"
#include "spec/document.hpp"
#include "spec/origin.hpp"
#include "spec/schema.hpp"

#include <optional>
#include <string>
#include <vector>

namespace ribbay {

/// What a build starts from: the project's files, read and merged.
struct Inputs {
  Document project;
  Document vehicle;
  std::string vehicle_name;  ///< the vehicle file's name without folder and ending
};

/// Reads a project file, its includes and the vehicle file it names.
Built<std::optional<Inputs>> read_inputs(const std::string& path,
                                         const std::vector<std::string>& overrides = {},
                                         const ReadFile& read = read_file);

/// Lays out every module of the project. With errors among the findings the value holds what could
/// still be laid out, or nothing.
Built<std::optional<Layout>> lay_out(const Inputs& inputs);

/// Where a value of the project comes from; `name` as an expression would write it: "rack.width",
/// "lining", "vehicle.floor_width". A mistake elsewhere in the project does not hinder the answer.
/// Nullopt, with findings, when nobody knows the name or the project cannot be read.
Built<std::optional<Origin>> explain_value(const Inputs& inputs, const std::string& name);

/// The schemas of a project file, for `explain` and the reference: "project", "values",
/// "module.rack", ...
struct NamedSchema {
  std::string name;     ///< "rack"
  std::string heading;  ///< "[module.NAME] with kind = \"rack\""
  SchemaPtr schema;
};
std::vector<NamedSchema> project_schemas();

}  // namespace ribbay
