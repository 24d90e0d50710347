#include "survey_mend.hpp"

#include "base/text.hpp"

#include <charconv>
#include <utility>

namespace ribbay::detail {

namespace {

/// A whole number as written, and the mm that one of it stands for.
struct Digits {
  std::string text;
  double mm = 1.0;
};

/// The leading whole number of a plain quantity: "879", "879 mm", "34 5/8 in".
std::optional<Digits> digits_of(const Node& written) {
  if (const auto* whole = std::get_if<std::int64_t>(&written.value))
    return Digits{std::to_string(*whole), 1.0};
  if (const auto* number = std::get_if<double>(&written.value)) {
    const std::string text = number_text(*number);
    return Digits{text.substr(0, text.find('.')), 1.0};
  }
  const std::string* text = written.text();
  if (text == nullptr) return std::nullopt;
  const std::size_t end = text->find_first_not_of("0123456789");
  const std::string digits = text->substr(0, end);
  if (digits.empty() || text->find_first_of("+*()_") != std::string::npos) return std::nullopt;
  for (const auto& [unit, mm] : {std::pair{" mm", 1.0}, {" cm", 10.0}, {" in", 25.4}}) {
    if (text->ends_with(unit)) return Digits{digits, mm};
  }
  if (end == std::string::npos) return Digits{digits, 1.0};
  return std::nullopt;
}

double number_of(const std::string& digits) {
  double value = 0.0;
  std::from_chars(digits.data(), digits.data() + digits.size(), value);
  return value;
}

}  // namespace

std::optional<Mend> mend_of(const Node* written, double mm,
                            const std::function<bool(double)>& fits) {
  if (written != nullptr) {
    if (const auto digits = digits_of(*written)) {
      for (std::size_t i = 0; i + 1 < digits->text.size(); ++i) {
        std::string other = digits->text;
        std::swap(other[i], other[i + 1]);
        const double moved = mm + (number_of(other) - number_of(digits->text)) * digits->mm;
        if (other != digits->text && fits(moved)) return Mend{"swapped", other, moved};
      }
    }
  }
  for (const double factor : {10.0, 25.4}) {
    for (const bool times : {true, false}) {
      const double moved = times ? mm * factor : mm / factor;
      if (fits(moved)) return Mend{"slip", rounded_text(factor, 1), moved};
    }
  }
  return std::nullopt;
}

const Node* written_value(const Document& document, const std::string& kind,
                          const std::string& name, const std::string& field,
                          std::optional<std::size_t> index) {
  const Node* node = document.root.find(kind);
  for (const std::string& key : {name, field}) {
    if (node != nullptr) node = node->find(key);
  }
  if (node == nullptr || !index || node->array() == nullptr) return node;
  return *index < node->array()->size() ? &(*node->array())[*index] : node;
}

}  // namespace ribbay::detail
