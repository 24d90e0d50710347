#pragma once

#include "base/result.hpp"
#include "scan/read_scan.hpp"

#include <cstdint>
#include <cstring>
#include <string>
#include <string_view>

namespace ribbay::detail {

/// The importer trusts what a file says about itself, and text that is not as it should be can keep
/// it busy for ever. These look first: a file that says more than it holds is refused in plain
/// words, and what goes on to the importer has been written here.

Finding scan_error(std::string code);

/// `holds` and `says` count triangles, points or bytes, as `of` tells.
Finding cut_short(std::string of, std::size_t says, std::size_t holds);
Finding bad_index(double index, std::size_t points);
Finding too_many(std::size_t count, std::size_t limit);

Findings check_obj(std::string_view bytes, const ScanLimits& limits);

/// The same file, in binary, with nothing in it but its triangles and where they stand.
Result<std::string> plain_glb(std::string_view bytes, const ScanLimits& limits);
Result<std::string> plain_stl(std::string_view bytes, const ScanLimits& limits);

/// The triangles of a PLY file, in its unit. The importer loses its place in some binary ones.
Result<ScanMesh> read_ply(std::string_view bytes, const ScanLimits& limits);

/// A little-endian number at `at`; the caller has checked that it is there.
template <class T>
T little(std::string_view bytes, std::size_t at) {
  T value{};
  std::memcpy(&value, bytes.data() + at, sizeof(T));
  return value;
}

}  // namespace ribbay::detail
