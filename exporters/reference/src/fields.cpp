#include "reference/reference.hpp"

namespace ribbay {

namespace {

void list_fields(const Schema& schema, const std::string& prefix, std::vector<ListedField>& all) {
  for (const Field& field : schema.fields) {
    all.push_back({prefix + field.name, &field});
    if (!field.inner) continue;
    const char* between = field.kind == FieldKind::table   ? "."
                          : field.kind == FieldKind::keyed ? ".NAME."
                                                           : "[].";
    list_fields(*field.inner, prefix + field.name + between, all);
  }
}

}  // namespace

std::vector<ListedField> listed_fields(const Schema& schema) {
  std::vector<ListedField> all;
  list_fields(schema, "", all);
  return all;
}

}  // namespace ribbay
