#pragma once

#include "catalogue/catalogue.hpp"
#include "spec/fields.hpp"

/// The schemas of catalogue entries, by what they describe, and what all of them share.
namespace ribbay::detail {

using NamedSchemas = std::vector<std::pair<std::string, SchemaPtr>>;

NamedSchemas stock_schemas();      ///< materials, and what is cut from
NamedSchemas hardware_schemas();   ///< small parts
NamedSchemas equipment_schemas();  ///< fittings and equipment: bought bodies

/// The schema of the entries of one kind.
SchemaPtr catalogue_schema_of(std::string_view kind);

/// Names of the faces as files write them, in the order of Face.
const std::vector<std::string>& face_names();

/// An entry's title, its own fields, and where its facts come from.
SchemaPtr entry_schema(std::string name, std::string meaning, std::vector<Field> own);
/// The same for things that a mirrored module needs the other way round.
SchemaPtr handed_schema(const std::string& name, std::string meaning, std::vector<Field> own,
                        std::string by_default);

FieldMaker positive(std::string name);
FieldMaker not_negative(std::string name);
FieldMaker point(std::string name);
FieldMaker mass();
FieldMaker colour();

}  // namespace ribbay::detail
