#include "schemas.hpp"

namespace ribbay {

namespace detail {

SchemaPtr entry_schema(std::string name, std::string meaning, std::vector<Field> own) {
  std::vector<Field> fields{text_field("title").means("What the shop calls it."), based_on_field()};
  fields.insert(fields.end(), own.begin(), own.end());
  fields.push_back(text_field("source").means(
      "Where the facts come from: standard, data sheet or measurement, with edition."));
  fields.push_back(date_field("date").means("When they were looked up."));
  fields.push_back(flag_field("assumption")
                       .otherwise("false")
                       .means("True when nobody has looked them up; then a source is not needed."));
  return std::make_shared<const Schema>(
      Schema{std::move(name), std::move(meaning), std::move(fields)});
}

FieldMaker positive(std::string name) {
  return length_field(std::move(name)).above(0);
}
FieldMaker not_negative(std::string name) {
  return length_field(std::move(name)).at_least(0);
}
FieldMaker point(std::string name) {
  return vector_field(std::move(name));
}
FieldMaker mass() {
  return mass_field("mass").at_least(0);
}
FieldMaker colour() {
  return text_field("colour").otherwise("#b0b0b0").means("For pictures, as #rrggbb.");
}

SchemaPtr handed_schema(const std::string& name, std::string meaning, std::vector<Field> own,
                        std::string by_default) {
  own.push_back(choice_field("mirror", {"symmetric", "none"})
                    .otherwise(std::move(by_default))
                    .means("In a mirrored module: symmetric, it is its own mirror image; none, it "
                           "has no mirror image and stands there as it is."));
  own.push_back(
      reference_field("pair", name)
          .means("The item that is its mirror image, used instead in a mirrored module."));
  return entry_schema(name, std::move(meaning), std::move(own));
}

const std::vector<std::string>& face_names() {
  static const std::vector<std::string> names{"front", "back", "left", "right", "top", "bottom"};
  return names;
}

SchemaPtr catalogue_schema_of(std::string_view kind) {
  for (const auto& [name, schema] : catalogue_schemas()) {
    if (name == kind) return schema;
  }
  return nullptr;
}

}  // namespace detail

const std::vector<std::pair<std::string, SchemaPtr>>& catalogue_schemas() {
  static const detail::NamedSchemas schemas = [] {
    detail::NamedSchemas all;
    for (const auto& some :
         {detail::stock_schemas(), detail::hardware_schemas(), detail::equipment_schemas()}) {
      all.insert(all.end(), some.begin(), some.end());
    }
    return all;
  }();
  return schemas;
}

const std::string& name(Face face) {
  return detail::face_names()[static_cast<std::size_t>(face)];
}

Vec3 outward(Face face) {
  constexpr Vec3 kOutward[] = {{0, -1, 0}, {0, 1, 0}, {-1, 0, 0}, {1, 0, 0}, {0, 0, 1}, {0, 0, -1}};
  return kOutward[static_cast<std::size_t>(face)];
}

}  // namespace ribbay
