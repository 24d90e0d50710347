#include "base/text.hpp"
#include "facts.hpp"
#include "reference/reference.hpp"
#include "spec/vocabulary.hpp"
#include "texts.hpp"

#include <algorithm>

namespace ribbay {

using namespace detail;

namespace {

/// A cell of a table: a stroke would end it.
std::string cell(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    if (c == '|') safe += '\\';
    safe += c;
  }
  return safe;
}

std::string row(const std::vector<std::string>& cells) {
  std::string line = "|";
  for (const std::string& text : cells) line += " " + cell(text) + (text.empty() ? "|" : " |");
  return line + "\n";
}

std::string code(const std::string& text) {
  return "`" + text + "`";
}

std::string field_row(const ListedField& listed) {
  const Field& field = *listed.field;
  const std::string otherwise = field.required           ? "required"
                                : field.fallback.empty() ? ""
                                                         : code(field.fallback);
  return row(
      {code(listed.path), describe_type(field), describe_limits(field), otherwise, field.meaning});
}

std::string field_table(const std::vector<ListedField>& fields) {
  std::string page = "\n| Field | Value | Limits | Default | Meaning |\n|---|---|---|---|---|\n";
  for (const ListedField& listed : fields) page += field_row(listed);
  return page;
}

/// A meaning as a sentence of its own.
std::string sentence(std::string text) {
  if (text.empty()) return text;
  if (text.front() >= 'a' && text.front() <= 'z') text.front() -= 'a' - 'A';
  if (text.back() != '.') text += '.';
  return text;
}

std::string section(const NamedSchema& of, const std::vector<ListedField>& fields,
                    const std::string& picture = "") {
  return "\n### " + of.heading + "\n\n" + sentence(of.schema->meaning) + "\n" + picture +
         field_table(fields);
}

/// The picture of an example, as the program draws it.
std::string picture_of(const std::string& example) {
  return "\n[![The module of examples/" + example + ".toml, drawn by the program](pictures/" + example +
         ".svg)](examples/" + example + ".toml)\n";
}

/// Those of a module kind: a bunk that is fixed, and one that folds.
std::string pictures_of(const std::string& kind) {
  return picture_of(kind) + (kind == "bunk" ? picture_of("folding_bunk") : "");
}

std::vector<NamedSchema> schemas_where(bool (*wanted)(const NamedSchema&)) {
  std::vector<NamedSchema> found;
  std::ranges::copy_if(project_schemas(), std::back_inserter(found), wanted);
  return found;
}

/// Fields that every module kind has in the same words are told once.
std::string modules() {
  const auto kinds = schemas_where([](const NamedSchema& s) { return s.table == "module"; });
  const auto shared = [&](const ListedField& listed) {
    return std::ranges::all_of(kinds, [&](const NamedSchema& kind) {
      const auto others = listed_fields(*kind.schema);
      return std::ranges::any_of(
          others, [&](const ListedField& other) { return field_row(other) == field_row(listed); });
    });
  };
  std::vector<ListedField> common;
  std::string own;
  for (const NamedSchema& kind : kinds) {
    std::vector<ListedField> rest;
    for (const ListedField& listed : listed_fields(*kind.schema)) {
      if (!shared(listed)) rest.push_back(listed);
      if (shared(listed) && &kind == &kinds.front()) common.push_back(listed);
    }
    own += section(kind, rest, pictures_of(kind.name));
  }
  return "\n### [module.NAME]\n\nWhat every module may say, whatever its kind.\n" +
         field_table(common) + own;
}

std::string units() {
  std::vector<Dimension> dimensions;
  const std::vector<ListedUnit> all = listed_units();
  for (const ListedUnit& unit : all) {
    if (std::ranges::find(dimensions, unit.dimension) == dimensions.end())
      dimensions.push_back(unit.dimension);
  }
  std::string rows;
  for (const Dimension dimension : dimensions) {
    std::vector<std::string> names;
    for (const ListedUnit& unit : all) {
      if (unit.dimension == dimension) names.push_back(code(unit.name));
    }
    rows += row({dimension_name(dimension), bare_unit(dimension), join(names, " ")});
  }
  rows.pop_back();  // the template's line ends itself
  return rows;
}

std::string functions() {
  std::vector<std::string> words;
  for (const std::string& word : expression_words()) words.push_back(code(word));
  return join(words, ", ");
}

std::string introduction() {
  std::string page(reference_text("introduction.md"));
  const auto fill = [&](const std::string& mark, const std::string& text) {
    page.replace(page.find(mark), mark.size(), text);
  };
  fill("<<units>>", units());
  fill("<<functions>>", functions());
  return page;
}

std::string questions() {
  std::string page =
      "\n## Questions to the van\n\nIn an expression they ask the bare van as it was surveyed, "
      "before any module "
      "stands in it. Arguments\nand answers are lengths in van axes.\n\n| Question | Answer "
      "|\n|---|---|\n";
  for (const VanQuestion& question : van_questions()) {
    page += row({code(question.usage), question.meaning});
  }
  return page;
}

std::string facts() {
  std::string page =
      "\n## Facts of the van\n\nNames that expressions may use. NAME is a name of the vehicle "
      "file; what the file says "
      "once for a row of\nequal things (`count`) has names that end in `_1`, `_2`, ...\n\n| Name | "
      "Is a |\n|---|---|\n";
  for (const auto& [name, dimension] : fact_patterns()) {
    page += row({code("vehicle." + name), dimension_name(dimension)});
  }
  return page;
}

/// How the van is used, and the shop.
bool of_the_shop(const NamedSchema& schema) {
  return schema.table == "saw" || schema.table == "offcut" || schema.table == "one_at_a_time";
}

}  // namespace

std::string reference_markdown() {
  std::string page = introduction() + "\n## Project files\n";
  for (const NamedSchema& of : schemas_where([](const auto& s) { return s.table == "project"; })) {
    page += section(of, listed_fields(*of.schema));
  }
  page += modules();
  page += "\n## The project's other tables\n";
  for (const NamedSchema& of : schemas_where(of_the_shop)) {
    page += section(of, listed_fields(*of.schema));
  }
  page += "\n## What can be bought\n";
  for (const NamedSchema& of : schemas_where([](const auto& s) {
         return !s.vehicle && s.table != "project" && s.table != "module" && !of_the_shop(s);
       })) {
    page += section(of, listed_fields(*of.schema));
  }
  page += "\n## Vehicle files\n";
  for (const NamedSchema& of : schemas_where([](const auto& s) { return s.vehicle; })) {
    page += section(of, listed_fields(*of.schema));
  }
  return page + questions() + facts();
}

}  // namespace ribbay
