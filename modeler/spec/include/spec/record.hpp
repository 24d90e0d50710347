#pragma once

#include "base/finding.hpp"
#include "base/vec.hpp"

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace ribbay {

/// A size in a list: a length in mm, or `share` parts of what is left over.
struct Size {
  double mm = 0.0;
  double share = 0.0;
  friend bool operator==(const Size&, const Size&) = default;
};

/// A table whose fields have been checked against a schema and computed: numbers in canonical units
/// (mm, rad, kg, N), defaults filled in. Asking for a field that the schema does not have, or by
/// the wrong kind, is a mistake of ours and asserts; ask has() first for optional fields without a
/// default.
class Record {
 public:
  using Value =
      std::variant<double, bool, std::string, std::vector<double>, std::vector<std::string>,
                   std::vector<Size>, std::vector<std::pair<std::string, Record>>>;
  struct Item {
    Value value;
    Place place;
    bool given = false;  ///< written in a file, not a default
  };

  bool has(std::string_view field) const;
  /// True when the field was written in a file or set; false for a default.
  bool given(std::string_view field) const;
  double number(std::string_view field) const;  ///< quantity, count
  std::optional<double> number_if(std::string_view field) const;
  bool flag(std::string_view field) const;
  const std::string& text(std::string_view field) const;  ///< text, choice, reference, path, date
  std::string text_or(std::string_view field, std::string_view otherwise) const;
  const std::vector<double>& numbers(std::string_view field) const;  ///< quantities, vector
  Vec3 vec3(std::string_view field) const;
  Vec2 vec2(std::string_view field) const;
  const std::vector<std::string>& texts(std::string_view field) const;
  const std::vector<Size>& sizes(std::string_view field) const;
  const Record& table(std::string_view field) const;
  /// Entries of a keyed table in file order, or of a list with names "1", "2", ...; empty when
  /// absent.
  const std::vector<std::pair<std::string, Record>>& tables(std::string_view field) const;
  /// Where the field was written, or where the table stands when it is a default.
  const Place& place(std::string_view field) const;
  const Place& place() const { return place_; }

  void set(std::string field, Item item);
  void set_place(Place place) { place_ = std::move(place); }

 private:
  const Item& item(std::string_view field) const;
  std::map<std::string, Item, std::less<>> items_;
  Place place_;
};

/// Gives each share its part of `total` mm after the fixed sizes. Nullopt when the fixed sizes
/// alone take more than `total`, or nothing is left for a share; without shares the sizes need not
/// fill `total`.
std::optional<std::vector<double>> share_out(const std::vector<Size>& sizes, double total);

}  // namespace ribbay
