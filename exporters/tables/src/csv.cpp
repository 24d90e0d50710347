#include "tables/csv.hpp"

namespace ribbay {

namespace {

bool needs_quotes(const std::string& field) {
  return field.find_first_of(",\"\r\n") != std::string::npos ||
         (!field.empty() && (field.front() == ' ' || field.back() == ' '));
}

std::string quoted(const std::string& field) {
  std::string text = "\"";
  for (const char c : field) {
    if (c == '"') text += '"';
    text += c;
  }
  return text + '"';
}

}  // namespace

std::string csv_text(const std::vector<std::vector<std::string>>& rows) {
  std::string text;
  for (const auto& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      if (i > 0) text += ',';
      text += needs_quotes(row[i]) ? quoted(row[i]) : row[i];
    }
    text += "\r\n";
  }
  return text;
}

}  // namespace ribbay
