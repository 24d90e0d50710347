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

/// What a parameter file may hold, for `explain`, the reference and editors.
struct NamedSchema {
  std::string name;     ///< "rack"
  std::string heading;  ///< "[module.NAME] with kind = \"rack\""
  SchemaPtr schema;
  std::string table;     ///< the top-level table it stands in: "module"
  bool many = false;     ///< the table holds any number of these, each under its own name
  bool vehicle = false;  ///< in a vehicle file, not in a project file
};
/// "project", the module kinds, what can be bought, and the tables of vehicle files.
std::vector<NamedSchema> project_schemas();

/// A question that an expression may ask the bare van.
struct VanQuestion {
  std::string usage;  ///< "clear_width(x from, x to, z from, z to)"
  std::string meaning;
};
/// All of them, for the reference.
std::vector<VanQuestion> van_questions();

}  // namespace ribbay
