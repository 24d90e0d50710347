#include "cut_rows.hpp"

#include "base/text.hpp"
#include "csv_table.hpp"
#include "shop/limits.hpp"
#include "spec/currency.hpp"
#include "spec/evaluator.hpp"
#include "spec/fields.hpp"

#include <algorithm>
#include <charconv>
#include <functional>
#include <memory>

namespace ribbay::detail {

namespace {

constexpr const char* kPieceRow = "line_";
constexpr const char* kStockRow = "stock_line_";
constexpr const char* kOptions = "cut";

Schema piece_schema() {
  return {"pieces",
          "What is to be cut.",
          {text_field("label").needed().means("what is written on the piece"),
           length_field("length").needed().above(0).at_most(kLongestCut).means("its length"),
           length_field("width").needed().above(0).at_most(kLongestCut).means("its width"),
           count_field("quantity").at_least(1).otherwise("1").means("how many are needed"),
           choice_field("grain", {"yes", "no", "along length"})
               .otherwise("no")
               .means("yes: its length runs along that of the sheet, it may not be turned"),
           text_field("stock").needed().means("which rows of the stock it is cut from")}};
}

Schema stock_schema() {
  return {
      "stock",
      "What it is cut from.",
      {text_field("stock").needed().means("the name of the section or sheet"),
       length_field("length").needed().above(0).at_most(kLongestCut).means("its length"),
       length_field("width").needed().above(0).at_most(kLongestCut).means("its width"),
       count_field("quantity").at_least(1).means("how many there are; empty: as many as needed"),
       quantity_field("price", dimension::money)
           .at_least(0)
           .at_most(kDearestStock)
           .means("of one")}};
}

Schema option_schema() {
  const auto width = [](std::string name, std::string meaning) {
    return length_field(std::move(name))
        .at_least(0)
        .at_most(1000)
        .otherwise("0 mm")
        .means(std::move(meaning));
  };
  return {"options",
          "The saw.",
          {width("kerf", "width of a saw cut"), width("trim", "taken off each end or edge"),
           width("clamp", "shortest rest that the saw can hold")}};
}

bool optional_column(const std::string& name) {
  return name == "width" || name == "grain" || name == "stock" || name == "price" ||
         name == "quantity";
}

std::vector<std::string> names_of(const Schema& schema) {
  std::vector<std::string> names;
  for (const Field& field : schema.fields) names.push_back(field.name);
  return names;
}

/// Small letters, a unit in brackets left out: "Length (mm)" is meant to be length.
std::string column_meant(const std::string& written) {
  std::string name = written.substr(0, written.find_first_of("(["));
  name.erase(std::find_if(name.rbegin(), name.rend(), [](char c) { return c != ' '; }).base(),
             name.end());
  std::ranges::transform(name, name.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return name;
}

/// Spaces that do not break, as spreadsheets write them between number and unit.
std::string with_plain_spaces(std::string text) {
  for (const std::string_view space : {"\u00A0", "\u202F", "\u2009"}) {
    for (std::size_t at = text.find(space); at != std::string::npos; at = text.find(space, at))
      text.replace(at, space.size(), " ");
  }
  return text;
}

/// Plain decimals become numbers, everything else stays as it is written.
Node node_of(const Cell& cell, const Field& field) {
  Node node;
  node.place = cell.place;
  node.value = cell.text;
  if (field.kind != FieldKind::quantity && field.kind != FieldKind::count) return node;
  const std::string text = with_plain_spaces(cell.text);
  node.value = text;
  const char* end = text.data() + text.size();
  double value = 0.0;
  const auto read = std::from_chars(text.data(), end, value);
  if (read.ec == std::errc() && read.ptr == end) node.value = value;
  return node;
}

/// A table of a file as tables of a document, one for each row, so that its cells are read as
/// values of parameter files are.
class Table {
 public:
  Table(const std::string& file, std::string prefix, Schema schema)
      : prefix_(std::move(prefix)), schema_(std::move(schema)) {
    const Result<std::string> bytes = read_file(file);
    if (!bytes) {
      findings = bytes.error();
      return;
    }
    Result<CsvTable> table = read_csv(file, *bytes);
    if (!table) {
      findings = table.error();
      return;
    }
    table_ = std::move(*table);
    match_columns();
  }

  Findings findings;

  bool has(const std::string& column) const {
    return std::ranges::find(table_.header.cells, column, &Cell::text) != table_.header.cells.end();
  }
  std::size_t rows() const { return table_.rows.size(); }
  /// The same table with these rows of it alone.
  Table part(std::size_t from, std::size_t to) const {
    Table some(prefix_, schema_);
    some.table_.header = table_.header;
    for (std::size_t r = from; r < std::min(to, rows()); ++r) some.table_.rows.push_back(table_.rows[r]);
    return some;
  }
  std::string path(std::size_t row) const {
    return prefix_ + std::to_string(table_.rows[row].place.line);
  }

  void add_to(Node::Table& root) const {
    for (std::size_t r = 0; r < rows(); ++r) {
      Node::Table fields;
      for (std::size_t c = 0; c < table_.header.cells.size(); ++c) {
        const Cell& name = table_.header.cells[c];
        const Cell& cell = table_.rows[r].cells[c];
        const Field* field = schema_.find(name.text);
        if (!cell.text.empty()) fields.push_back({name.text, name.place, node_of(cell, *field)});
      }
      root.push_back({path(r), table_.rows[r].place, Node{fields, table_.rows[r].place, {}}});
    }
  }

  /// Fields of columns that are not there are not asked for.
  SchemaPtr schema() const {
    Schema schema = schema_;
    for (Field& field : schema.fields) field.required = field.required && has(field.name);
    return std::make_shared<const Schema>(std::move(schema));
  }

  void missing_column(const std::string& column) {
    Finding finding = input_error("csv.missing_column", table_.header.place);
    findings.push_back(
        std::move(finding).with("column", column).with("meaning", schema_.find(column)->meaning));
  }

 private:
  Table(std::string prefix, Schema schema)
      : prefix_(std::move(prefix)), schema_(std::move(schema)) {}

  /// True for a first line of values, or of words that are near no column's name.
  bool names_nothing(const std::vector<std::string>& names) const {
    return std::ranges::none_of(table_.header.cells, [&](const Cell& cell) {
      return !nearest(column_meant(cell.text), names).empty();
    });
  }

  void match_columns() {
    const std::vector<std::string> names = names_of(schema_);
    // Capitals do not matter.
    for (Cell& cell : table_.header.cells) {
      const std::string meant = column_meant(cell.text);
      if (meant.size() == cell.text.size() && schema_.find(meant) != nullptr) cell.text = meant;
    }
    if (names_nothing(names)) {
      std::vector<std::string> found;
      for (const Cell& cell : table_.header.cells) found.push_back(cell.text);
      findings.push_back(input_error("csv.no_header", table_.header.place)
                             .with("found", join(found, ", "))
                             .with("known", join(names, ", ")));
      return;
    }
    std::vector<std::string> misspelt;
    for (auto cell = table_.header.cells.begin(); cell != table_.header.cells.end(); ++cell) {
      if (schema_.find(cell->text) == nullptr) {
        Finding finding = input_error("csv.unknown_column", cell->place);
        finding.with("found", cell->text).with("known", join(names, ", "));
        const std::string near = nearest(column_meant(cell->text), names);
        if (!near.empty()) finding.with("nearest", near);
        misspelt.push_back(near);
        findings.push_back(std::move(finding));
      }
      const auto same = std::find_if(table_.header.cells.begin(), cell,
                                     [&](const Cell& c) { return c.text == cell->text; });
      if (same != cell) {
        findings.push_back(input_error("csv.column_twice", cell->place).with("column", cell->text));
      }
    }
    for (const std::string& name : names) {
      const bool needed = !optional_column(name) || (name == "stock" && prefix_ == kStockRow);
      if (needed && !has(name) && !std::ranges::count(misspelt, name)) missing_column(name);
    }
  }

  std::string prefix_;
  Schema schema_;
  CsvTable table_;
};

Entry option_entry(const std::string& name, const std::string& text) {
  const std::string option = std::string("--").append(name);
  const Place place{option, 0, 0, text};
  Cell cell{text, place};
  return {name, place, node_of(cell, length_field(name))};
}

Node option_table(const SawTexts& saw) {
  Node::Table fields;
  if (!saw.kerf.empty()) fields.push_back(option_entry("kerf", saw.kerf));
  if (!saw.trim.empty()) fields.push_back(option_entry("trim", saw.trim));
  if (!saw.clamp.empty()) fields.push_back(option_entry("clamp", saw.clamp));
  return Node{fields, {}, {}};
}

PieceRow piece_of(const Record& record) {
  PieceRow piece;
  piece.label = record.text("label");
  piece.length = record.number("length");
  piece.width = record.number_if("width").value_or(0.0);
  piece.count = static_cast<int>(record.number("quantity"));
  piece.grain = record.text("grain") != "no";
  piece.stock = record.text_or("stock", "");
  piece.place = record.place("length");
  return piece;
}

StockRow stock_of(const Record& record) {
  StockRow stock;
  stock.name = record.text("stock");
  stock.length = record.number("length");
  stock.width = record.number_if("width").value_or(0.0);
  if (const auto count = record.number_if("quantity")) stock.count = static_cast<int>(*count);
  stock.price = record.number_if("price");
  stock.place = record.place("length");
  return stock;
}

/// "1,500" is one and a half to some, and more than a thousand to others.
bool may_be_thousands(const std::string& text) {
  const std::size_t comma = text.find(',');
  const auto digits = [](std::string_view part) {
    return !part.empty() && std::ranges::all_of(part, [](char c) { return c >= '0' && c <= '9'; });
  };
  return comma != std::string::npos && comma <= 3 && text.size() == comma + 4 &&
         digits(std::string_view(text).substr(0, comma)) &&
         digits(std::string_view(text).substr(comma + 1));
}

/// In a table a word is no name of a value, and no formula is worked out.
Findings in_terms_of_tables(Findings findings) {
  for (Finding& finding : findings) {
    if (!finding.place) continue;
    const Place place = *finding.place;
    if (finding.code == "expression.decimal_comma" && may_be_thousands(place.text)) {
      std::string decimal = place.text;
      std::ranges::replace(decimal, ',', '.');
      std::string whole = place.text;
      std::erase(whole, ',');
      finding = input_error("csv.thousands", place)
                    .with("found", place.text)
                    .with("whole", whole)
                    .with("decimal", decimal);
    } else if (finding.code == "expression.unknown_name" ||
               finding.code == "expression.bad_character" ||
               finding.code == "expression.operator_expected") {
      finding = input_error("csv.not_a_quantity", place).with("found", place.text);
    }
  }
  return findings;
}

/// Rows are read as a document of so many tables each, since names are looked for one by one in it.
constexpr std::size_t kRowsAtOnce = 500;
constexpr std::size_t kMostTold = 500;

/// The currency of the first price that names one.
std::string currency_in(const Node::Table& root) {
  for (const Entry& row : root) {
    const Node* price = row.value.find("price");
    if (price == nullptr || price->text() == nullptr) continue;
    for (const std::string& word : split(*price->text(), ' ')) {
      if (is_currency(word)) return word;
    }
  }
  return {};
}

/// Takes rows of both tables in; gives what is wrong with them.
Findings read_some(const Table& pieces, const Table& stock, const SawTexts& saw, bool first,
                   CutRows& rows) {
  Document document;
  Node::Table root;
  pieces.add_to(root);
  stock.add_to(root);
  if (rows.currency.empty()) rows.currency = currency_in(root);
  root.push_back({kOptions, {}, option_table(saw)});
  document.root.value = std::move(root);

  Evaluator evaluator(document, {});
  const SchemaPtr piece = pieces.schema();
  const SchemaPtr sort = stock.schema();
  for (std::size_t r = 0; r < pieces.rows(); ++r) evaluator.declare(pieces.path(r), piece);
  for (std::size_t r = 0; r < stock.rows(); ++r) evaluator.declare(stock.path(r), sort);
  if (first) evaluator.declare(kOptions, std::make_shared<const Schema>(option_schema()));
  for (std::size_t r = 0; r < pieces.rows(); ++r) {
    if (const auto record = evaluator.record(pieces.path(r))) rows.pieces.push_back(piece_of(*record));
  }
  for (std::size_t r = 0; r < stock.rows(); ++r) {
    if (const auto record = evaluator.record(stock.path(r))) rows.stock.push_back(stock_of(*record));
  }
  if (first) {
    if (const auto record = evaluator.record(kOptions)) {
      rows.saw = {record->number("kerf"), record->number("trim"), record->number("clamp")};
    }
  }
  return evaluator.take_findings();
}

}  // namespace

Result<CutRows> read_cut_rows(const std::string& pieces_file, const std::string& stock_file,
                              const SawTexts& saw) {
  Table pieces(pieces_file, kPieceRow, piece_schema());
  Table stock(stock_file, kStockRow, stock_schema());
  if (pieces.findings.empty() && stock.findings.empty()) {
    if (pieces.has("width") && !stock.has("width")) stock.missing_column("width");
    if (stock.has("width") && !pieces.has("width")) pieces.missing_column("width");
  }
  Findings findings = pieces.findings;
  findings.insert(findings.end(), stock.findings.begin(), stock.findings.end());
  if (!findings.empty()) return fail(std::move(findings));

  CutRows rows;
  for (std::size_t from = 0; from < std::max(pieces.rows(), stock.rows()); from += kRowsAtOnce) {
    const std::size_t to = from + kRowsAtOnce;
    const Findings found = read_some(pieces.part(from, to), stock.part(from, to), saw, from == 0, rows);
    findings.insert(findings.end(), found.begin(), found.end());
    if (findings.size() >= kMostTold) break;
  }
  if (has_errors(findings)) return fail(in_terms_of_tables(std::move(findings)));
  return rows;
}

}  // namespace ribbay::detail
