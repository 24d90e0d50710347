#include "spec/record.hpp"

#include "base/tolerance.hpp"

#include <cassert>

namespace ribbay {

bool Record::has(std::string_view field) const {
  return items_.find(field) != items_.end();
}

bool Record::given(std::string_view field) const {
  const auto found = items_.find(field);
  return found != items_.end() && found->second.given;
}

namespace {

/// The value as a T. A field asked for by the wrong kind is a mistake in our program, never in a
/// file.
template <class T>
const T& as(const Record::Item& item) {
  const T* value = std::get_if<T>(&item.value);
  assert(value != nullptr && "field asked for by the wrong kind");
  static const T nothing{};
  return value == nullptr ? nothing : *value;
}

}  // namespace

const Record::Item& Record::item(std::string_view field) const {
  const auto found = items_.find(field);
  assert(found != items_.end() && "field not in the record: ask has() first");
  static const Item nothing{};
  return found == items_.end() ? nothing : found->second;
}

double Record::number(std::string_view field) const {
  return as<double>(item(field));
}

std::optional<double> Record::number_if(std::string_view field) const {
  if (!has(field)) return std::nullopt;
  return number(field);
}

bool Record::flag(std::string_view field) const {
  return as<bool>(item(field));
}

const std::string& Record::text(std::string_view field) const {
  return as<std::string>(item(field));
}

std::string Record::text_or(std::string_view field, std::string_view otherwise) const {
  return has(field) ? text(field) : std::string(otherwise);
}

const std::vector<double>& Record::numbers(std::string_view field) const {
  return as<std::vector<double>>(item(field));
}

Vec3 Record::vec3(std::string_view field) const {
  const std::vector<double>& v = numbers(field);
  assert(v.size() == 3);
  return v.size() == 3 ? Vec3{v[0], v[1], v[2]} : Vec3{};
}

Vec2 Record::vec2(std::string_view field) const {
  const std::vector<double>& v = numbers(field);
  assert(v.size() == 2);
  return v.size() == 2 ? Vec2{v[0], v[1]} : Vec2{};
}

const std::vector<std::string>& Record::texts(std::string_view field) const {
  return as<std::vector<std::string>>(item(field));
}

const std::vector<Size>& Record::sizes(std::string_view field) const {
  return as<std::vector<Size>>(item(field));
}

const Record& Record::table(std::string_view field) const {
  const auto& only = as<std::vector<std::pair<std::string, Record>>>(item(field));
  assert(only.size() == 1);
  static const Record nothing;
  return only.empty() ? nothing : only.front().second;
}

const std::vector<std::pair<std::string, Record>>& Record::tables(std::string_view field) const {
  static const std::vector<std::pair<std::string, Record>> none;
  return has(field) ? as<std::vector<std::pair<std::string, Record>>>(item(field)) : none;
}

const Place& Record::place(std::string_view field) const {
  const auto found = items_.find(field);
  return found == items_.end() ? place_ : found->second.place;
}

void Record::set(std::string field, Item item) {
  items_.insert_or_assign(std::move(field), std::move(item));
}

std::optional<std::vector<double>> share_out(const std::vector<Size>& sizes, double total) {
  double fixed = 0.0;
  double shares = 0.0;
  for (const Size& size : sizes) {
    fixed += size.mm;
    shares += size.share;
  }
  const double left = total - fixed;
  // A rounding error in a sum of sizes is no shortage.
  if (left < -kSame || (shares > 0.0 && left <= kSame)) return std::nullopt;
  std::vector<double> lengths;
  for (const Size& size : sizes) {
    lengths.push_back(size.share > 0.0 ? left * (size.share / shares) : size.mm);
  }
  return lengths;
}

}  // namespace ribbay
