#include "preflight.hpp"

#include <array>
#include <charconv>
#include <optional>

namespace ribbay::detail {

namespace {

constexpr std::size_t kStlHead = 84;   // 80 bytes of anything, then the number of triangles
constexpr std::size_t kStlFacet = 50;  // normal, three corners, two bytes of anything

/// The three numbers behind the word "vertex" at `at`; nullopt when they are none.
std::optional<std::array<float, 3>> corner_at(std::string_view text, std::size_t at) {
  std::array<float, 3> corner{};
  const char* from = text.data() + at;
  const char* end = text.data() + text.size();
  for (float& c : corner) {
    while (from != end && (*from == ' ' || *from == '\t')) ++from;
    const auto read = std::from_chars(from, end, c);
    if (read.ec != std::errc{}) return std::nullopt;
    from = read.ptr;
  }
  return corner;
}

/// Every three lines that begin with "vertex" make a triangle.
Result<std::string> plain_stl_text(std::string_view text, const ScanLimits& limits) {
  std::string out(kStlHead, '\0');
  std::size_t corners = 0;
  constexpr std::string_view kWord = "vertex";
  for (std::size_t at = text.find(kWord); at != std::string_view::npos;
       at = text.find(kWord, at + kWord.size())) {
    const auto corner = corner_at(text, at + kWord.size());
    if (!corner) {
      return fail(scan_error("scan.not_read")
                      .with("reason", "corner " + std::to_string(corners + 1) + " has no place"));
    }
    if (corners % 3 == 0) out.append(12, '\0');
    out.append(reinterpret_cast<const char*>(corner->data()), sizeof *corner);
    if (++corners % 3 == 0) out.append(2, '\0');
    if (corners / 3 > limits.triangles) return fail(too_many(corners / 3, limits.triangles));
  }
  if (corners == 0) return fail(scan_error("scan.no_triangles"));
  if (corners % 3 != 0) return fail(cut_short("corners", (corners + 2) / 3 * 3, corners));
  const auto count = static_cast<std::uint32_t>(corners / 3);
  std::memcpy(out.data() + kStlHead - 4, &count, sizeof count);
  return out;
}

}  // namespace

Finding scan_error(std::string code) {
  return input_error(std::move(code), {});
}

Finding cut_short(std::string of, std::size_t says, std::size_t holds) {
  return scan_error("scan.cut_short")
      .with("of", std::move(of))
      .with("says", static_cast<double>(says), Unit::count)
      .with("holds", static_cast<double>(holds), Unit::count);
}

Finding bad_index(double index, std::size_t points) {
  return scan_error("scan.bad_index")
      .with("index", index, Unit::count)
      .with("points", static_cast<double>(points), Unit::count);
}

Finding too_many(std::size_t count, std::size_t limit) {
  return scan_error("scan.too_many")
      .with("count", static_cast<double>(count), Unit::count)
      .with("limit", static_cast<double>(limit), Unit::count);
}

Result<std::string> plain_stl(std::string_view bytes, const ScanLimits& limits) {
  const bool text = bytes.starts_with("solid");
  if (bytes.size() < kStlHead) {
    if (text) return plain_stl_text(bytes, limits);
    return fail(cut_short("bytes", kStlHead, bytes.size()));
  }
  const std::size_t says = little<std::uint32_t>(bytes, kStlHead - 4);
  const std::size_t holds = (bytes.size() - kStlHead) / kStlFacet;
  if (text && bytes.size() != kStlHead + says * kStlFacet) return plain_stl_text(bytes, limits);
  if (says > limits.triangles) return fail(too_many(says, limits.triangles));
  if (bytes.size() != kStlHead + says * kStlFacet) return fail(cut_short("triangles", says, holds));
  if (says == 0) return fail(scan_error("scan.no_triangles"));
  return std::string(bytes);
}

Findings check_obj(std::string_view bytes, const ScanLimits& limits) {
  std::size_t points = 0;
  std::size_t faces = 0;
  for (std::size_t at = 0; at < bytes.size();) {
    points += bytes.substr(at, 2) == "v ";
    faces += bytes.substr(at, 2) == "f ";
    const std::size_t end = bytes.find('\n', at);
    at = end == std::string_view::npos ? bytes.size() : end + 1;
  }
  if (points == 0 || faces == 0) return {scan_error("scan.no_triangles")};
  if (faces > limits.triangles) return {too_many(faces, limits.triangles)};
  return {};
}

}  // namespace ribbay::detail
