#include "csv_table.hpp"

#include "spec/utf8_text.hpp"

#include <algorithm>

namespace ribbay::detail {

namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// Of a text over several lines only the first can be shown.
std::string first_line(const std::string& text) {
  return text.substr(0, text.find_first_of("\r\n"));
}

std::string without_outer_spaces(const std::string& text) {
  const std::size_t start = text.find_first_not_of(" \t");
  if (start == std::string::npos) return {};
  return text.substr(start, text.find_last_not_of(" \t") - start + 1);
}

/// Spreadsheets write lines of nothing but commas.
bool is_blank(const CsvRow& row) {
  return std::ranges::all_of(row.cells, [](const Cell& cell) { return cell.text.empty(); });
}

class Reader {
 public:
  Reader(const std::string& file, std::string_view bytes) : file_(file), bytes_(bytes) {}

  std::vector<CsvRow> rows() {
    std::vector<CsvRow> rows;
    while (at_ < bytes_.size()) {
      CsvRow row = next_row();
      if (!is_blank(row)) rows.push_back(std::move(row));
    }
    return rows;
  }

  /// Where the byte at this offset stands.
  Place place_at(std::size_t offset) {
    while (at_ < offset) take();
    return here();
  }

  Findings findings;

 private:
  Place here() const { return {file_, line_, column_, {}}; }
  bool more() const { return at_ < bytes_.size(); }
  char now() const { return bytes_[at_]; }
  bool ends_line() const { return now() == '\n' || now() == '\r'; }
  bool ends_field() const { return now() == ',' || ends_line(); }

  char take() {
    const char c = bytes_[at_++];
    if (c == '\n' || (c == '\r' && !bytes_.substr(at_).starts_with('\n'))) {
      ++line_;
      column_ = 1;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++column_;  // bytes that go on with a character are no column of their own
    }
    return c;
  }

  CsvRow next_row() {
    CsvRow row;
    row.place = here();
    row.cells.push_back(field());
    while (more() && now() == ',') {
      take();
      row.cells.push_back(field());
    }
    if (more() && bytes_.substr(at_, 2) == "\r\n") take();
    if (more()) take();
    return row;
  }

  Cell field() {
    while (more() && (now() == ' ' || now() == '\t')) take();
    return more() && now() == '"' ? quoted() : plain();
  }

  Cell plain() {
    Cell cell{{}, here()};
    while (more() && !ends_field()) cell.text += take();
    cell.text = without_outer_spaces(cell.text);
    cell.place.text = cell.text;
    return cell;
  }

  Cell quoted() {
    Cell cell{{}, here()};
    take();
    while (more() && (now() != '"' || bytes_.substr(at_, 2) == "\"\"")) {
      if (now() == '"') take();
      cell.text += take();
    }
    cell.place.text = first_line(cell.text);
    if (!more()) {
      findings.push_back(input_error("csv.not_closed", cell.place));
      return cell;
    }
    take();
    pass_over_rest(cell);
    return cell;
  }

  void pass_over_rest(const Cell& cell) {
    const Place place = here();
    std::string rest;
    while (more() && !ends_field()) rest += take();
    rest = without_outer_spaces(rest);
    if (rest.empty()) return;
    Place wrong = place;
    wrong.text = cell.text + "\"" + rest;
    findings.push_back(input_error("csv.bad_quote", wrong).with("rest", rest));
  }

  const std::string& file_;
  std::string_view bytes_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
};

/// The separator of a header that has no comma, when it is one that spreadsheets use.
std::string other_separator(const CsvRow& header) {
  const std::string& text = header.cells.front().text;
  if (header.cells.size() > 1) return {};
  if (text.find(';') != std::string::npos) return ";";
  return text.find('\t') != std::string::npos ? "a tab" : "";
}

/// Columns behind the last name in which no row says anything.
void drop_empty_columns(CsvTable& table) {
  auto& names = table.header.cells;
  const auto unused = [&](const CsvRow& row) {
    return row.cells.size() != names.size() || row.cells.back().text.empty();
  };
  while (names.size() > 1 && names.back().text.empty() && std::ranges::all_of(table.rows, unused)) {
    for (CsvRow& row : table.rows) {
      if (row.cells.size() == names.size()) row.cells.pop_back();
    }
    names.pop_back();
  }
}

/// Rows that have not one field for each column.
Findings uneven_rows(const CsvTable& table) {
  const std::size_t columns = table.header.cells.size();
  const auto uneven = [&](const CsvRow& row) { return row.cells.size() != columns; };
  // One field above a table of several is a title, not a header.
  if (columns == 1 && std::ranges::all_of(table.rows, uneven))
    return {input_error("csv.title", table.header.place)
                .with("found", table.header.cells.front().text)};
  Findings findings;
  for (const CsvRow& row : table.rows) {
    if (!uneven(row)) continue;
    findings.push_back(input_error("csv.fields", row.place)
                           .with("found", static_cast<double>(row.cells.size()), Unit::count)
                           .with("expected", static_cast<double>(columns), Unit::count));
  }
  return findings;
}

}  // namespace

Result<CsvTable> read_csv(const std::string& file, std::string_view bytes) {
  if (bytes.starts_with(kByteOrderMark)) bytes.remove_prefix(kByteOrderMark.size());
  if (const std::size_t bad = first_bad_utf8(bytes); bad != std::string_view::npos) {
    return fail(input_error("input.not_utf8", Reader(file, bytes).place_at(bad)));
  }
  Reader reader(file, bytes);
  CsvTable table;
  table.rows = reader.rows();
  if (!reader.findings.empty()) return fail(std::move(reader.findings));
  if (!table.rows.empty()) {
    table.header = std::move(table.rows.front());
    table.rows.erase(table.rows.begin());
    if (const std::string other = other_separator(table.header); !other.empty()) {
      return fail(
          input_error("csv.separator", table.header.cells.front().place).with("found", other));
    }
  }
  if (table.rows.empty()) return fail(input_error("csv.no_rows", {file, 1, 1, {}}));
  if (table.rows.size() > kMostCsvRows) {
    return fail(input_error("csv.too_many_rows", table.rows[kMostCsvRows].place)
                    .with("limit", static_cast<double>(kMostCsvRows), Unit::count));
  }
  drop_empty_columns(table);
  Findings findings = uneven_rows(table);
  if (!findings.empty()) return fail(std::move(findings));
  return table;
}

}  // namespace ribbay::detail
