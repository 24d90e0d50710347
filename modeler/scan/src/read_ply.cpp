#include "preflight.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <optional>
#include <sstream>
#include <vector>

namespace ribbay::detail {

namespace {

/// A kind of number in a PLY file.
struct Number {
  std::size_t size = 0;  ///< bytes; 0: none
  bool real = false;
  bool with_sign = false;
};

struct Property {
  std::string name;
  Number value;  ///< or each value of a list
  Number count;  ///< of the values of a list
  bool list = false;
};

struct Element {
  std::string name;
  std::size_t number = 0;
  std::vector<Property> properties;

  bool has_list() const {
    return std::ranges::any_of(properties, [](const Property& p) { return p.list; });
  }
};

enum class Coding { text, little, big };

struct Header {
  Coding coding = Coding::text;
  std::vector<Element> elements;
  std::size_t size = 0;  ///< bytes up to the first element
};

Number number_type(const std::string& type) {
  if (type == "char" || type == "int8") return {1, false, true};
  if (type == "uchar" || type == "uint8") return {1, false, false};
  if (type == "short" || type == "int16") return {2, false, true};
  if (type == "ushort" || type == "uint16") return {2, false, false};
  if (type == "int" || type == "int32") return {4, false, true};
  if (type == "uint" || type == "uint32") return {4, false, false};
  if (type == "float" || type == "float32") return {4, true, true};
  if (type == "double" || type == "float64") return {8, true, true};
  return {};
}

std::optional<Property> read_property(std::istringstream& words) {
  std::string type;
  Property property;
  words >> type;
  if (type == "list") {
    std::string count;
    words >> count >> type;
    property.list = true;
    property.count = number_type(count);
    if (property.count.size == 0 || property.count.real) return std::nullopt;
  }
  words >> property.name;
  property.value = number_type(type);
  if (property.value.size == 0 || property.name.empty()) return std::nullopt;
  return property;
}

std::optional<Header> read_header(std::string_view bytes) {
  // A header longer than this describes no scan.
  constexpr std::size_t kLongest = 65536;
  const std::size_t end = bytes.substr(0, kLongest).find("end_header");
  const std::size_t line_end = end == std::string_view::npos ? end : bytes.find('\n', end);
  if (!bytes.starts_with("ply") || line_end == std::string_view::npos) return std::nullopt;
  Header header;
  header.size = line_end + 1;
  std::istringstream lines(std::string(bytes.substr(0, end)));
  bool format = false;
  for (std::string line; std::getline(lines, line);) {
    std::istringstream words(line);
    std::string word;
    words >> word;
    if (word == "format") {
      words >> word;
      format = word == "ascii" || word == "binary_little_endian" || word == "binary_big_endian";
      header.coding = word == "ascii"                  ? Coding::text
                      : word == "binary_little_endian" ? Coding::little
                                                       : Coding::big;
    } else if (word == "element") {
      Element element;
      words >> element.name >> element.number;
      if (words.fail()) return std::nullopt;
      header.elements.push_back(std::move(element));
    } else if (word == "property") {
      const auto property = read_property(words);
      if (!property || header.elements.empty()) return std::nullopt;
      header.elements.back().properties.push_back(*property);
    }
  }
  if (!format) return std::nullopt;
  return header;
}

/// Reads the numbers of the body one after another.
class Numbers {
 public:
  Numbers(std::string_view body, Coding coding) : body_(body), coding_(coding) {}

  /// Nullopt at the end, and where a text does not read as a number.
  std::optional<double> next(const Number& type) {
    return coding_ == Coding::text ? from_text() : from_bytes(type);
  }
  /// How many more values there can be.
  std::size_t most() const {
    return coding_ == Coding::text ? (body_.size() - at_ + 1) / 2 : body_.size() - at_;
  }

 private:
  static bool blank(char c) { return c == ' ' || c == '\n' || c == '\r' || c == '\t'; }

  std::optional<double> from_text() {
    while (at_ < body_.size() && blank(body_[at_])) ++at_;
    double value = 0.0;
    const char* end = body_.data() + body_.size();
    const auto read = std::from_chars(body_.data() + at_, end, value);
    if (read.ec != std::errc{} || (read.ptr != end && !blank(*read.ptr))) return std::nullopt;
    at_ = static_cast<std::size_t>(read.ptr - body_.data());
    return value;
  }

  std::optional<double> from_bytes(const Number& type) {
    if (body_.size() - at_ < type.size) return std::nullopt;
    std::uint64_t bits = 0;
    for (std::size_t i = 0; i < type.size; ++i) {
      const std::size_t k = coding_ == Coding::big ? type.size - 1 - i : i;
      bits |= static_cast<std::uint64_t>(static_cast<unsigned char>(body_[at_ + k])) << (8 * i);
    }
    at_ += type.size;
    if (type.real && type.size == 8) return std::bit_cast<double>(bits);
    if (type.real) return std::bit_cast<float>(static_cast<std::uint32_t>(bits));
    const std::uint64_t sign = std::uint64_t{1} << (8 * type.size - 1);
    if (type.with_sign && (bits & sign) != 0) return -static_cast<double>(2 * sign - bits);
    return static_cast<double>(bits);
  }

  std::string_view body_;
  Coding coding_;
  std::size_t at_ = 0;
};

/// Reads the body once and keeps what a scan needs of it.
class PlyReader {
 public:
  PlyReader(std::string_view body, const Header& header, std::size_t points)
      : numbers_(body, header.coding), header_(header), points_(points) {}

  Result<ScanMesh> read() {
    for (const Element& element : header_.elements) {
      // Every value takes a byte at least: more of them than bytes need no reading.
      if (element.number > numbers_.most()) {
        return fail(cut_short(element.name, element.number, numbers_.most()));
      }
      for (std::size_t i = 0; i < element.number; ++i) {
        if (copy(element)) continue;
        if (fault_) return fail(*fault_);
        return fail(cut_short(element.name, element.number, i));
      }
    }
    return std::move(mesh_);
  }

 private:
  bool copy(const Element& element) {
    std::array<double, 3> at{};
    for (const Property& property : element.properties) {
      if (property.list) {
        if (!copy_list(property, element.name == "face")) return false;
        continue;
      }
      const auto value = numbers_.next(property.value);
      if (!value) return false;
      const std::size_t axis = std::string_view("xyz").find(property.name);
      if (property.name.size() == 1 && axis < 3) at[axis] = *value;
    }
    if (element.name == "vertex") {
      mesh_.points.push_back({at[0], at[1], at[2]});
    }
    return true;
  }

  bool copy_list(const Property& property, bool of_face) {
    const bool corners = of_face && property.name.starts_with("vertex_ind");
    const auto count = numbers_.next(property.count);
    if (!count || !(*count >= 0.0 && *count <= static_cast<double>(numbers_.most()))) return false;
    polygon_.clear();
    for (std::size_t k = static_cast<std::size_t>(*count); k > 0; --k) {
      const auto index = numbers_.next(property.value);
      if (!index) return false;
      if (!corners) continue;
      if (!(*index >= 0.0 && *index < static_cast<double>(points_))) {
        fault_ = bad_index(*index, points_);
        return false;
      }
      polygon_.push_back(static_cast<std::uint32_t>(*index));
    }
    for (std::size_t k = 2; k < polygon_.size(); ++k) {
      mesh_.triangles.push_back({polygon_[0], polygon_[k - 1], polygon_[k]});
    }
    return true;
  }

  Numbers numbers_;
  const Header& header_;
  std::size_t points_;
  std::vector<std::uint32_t> polygon_;
  ScanMesh mesh_;
  std::optional<Finding> fault_;
};

const Element* element_of(const Header& header, std::string_view name) {
  const auto found = std::ranges::find(header.elements, name, &Element::name);
  return found == header.elements.end() ? nullptr : &*found;
}

/// The elements that a scan is read from; each stands once.
constexpr std::array<std::string_view, 2> kElements{"vertex", "face"};

/// One list of corners, and no more.
bool has_corners(const Element& faces) {
  return std::ranges::count_if(faces.properties, [](const Property& p) {
           return p.list && p.name.starts_with("vertex_ind") && !p.value.real;
         }) == 1;
}

}  // namespace

Result<ScanMesh> read_ply(std::string_view bytes, const ScanLimits& limits) {
  const auto header = read_header(bytes);
  if (!header) {
    return fail(scan_error("scan.not_read").with("reason", "it does not begin like a PLY file"));
  }
  const Element* points = element_of(*header, "vertex");
  const Element* faces = element_of(*header, "face");
  if (points == nullptr || faces == nullptr || points->number == 0 || faces->number == 0) {
    return fail(scan_error("scan.no_triangles"));
  }
  if (faces->number > limits.triangles) return fail(too_many(faces->number, limits.triangles));
  const bool sizeless = std::ranges::any_of(
      header->elements, [](const Element& element) { return element.properties.empty(); });
  const auto named = [](const Element& element) {
    return std::ranges::count(kElements, element.name) > 0;
  };
  const auto twice = std::ranges::count_if(header->elements, named) != 2;
  if (points->has_list() || !has_corners(*faces) || sizeless || twice) {
    return fail(scan_error("scan.not_read")
                    .with("reason", "its points or faces are not described as they should be"));
  }
  return PlyReader(bytes.substr(header->size), *header, points->number).read();
}

}  // namespace ribbay::detail
