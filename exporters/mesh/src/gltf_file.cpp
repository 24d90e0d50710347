#include "gltf_file.hpp"

#include "base/frame.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace ribbay::detail {

namespace {

using Json = GltfFile::Json;

/// In mm. Divided by, so that 700 mm is 0.7 m and not 0.7000000000000001 m.
constexpr double kMetre = 1000.0;

// Numbers of the glTF 2.0 specification (ISO/IEC 12113), chapters 3.6 and 4.4.
constexpr int kFloat = 5126;
constexpr int kUnsignedShort = 5123;
constexpr int kUnsignedInt = 5125;
constexpr int kArrayBuffer = 34962;
constexpr int kElementBuffer = 34963;
constexpr std::uint32_t kMagic = 0x46546C67;      // "glTF"
constexpr std::uint32_t kJsonChunk = 0x4E4F534A;  // "JSON"
constexpr std::uint32_t kDataChunk = 0x004E4942;  // "BIN"

template <class Number>
void append(std::string& bytes, Number value) {
  static_assert(std::endian::native == std::endian::little, "glTF is little-endian");
  const auto raw = std::bit_cast<std::array<char, sizeof(Number)>>(value);
  bytes.append(raw.data(), raw.size());
}

void append_chunk(std::string& bytes, std::uint32_t type, std::string data, char padding) {
  data.resize((data.size() + 3) / 4 * 4, padding);
  append(bytes, static_cast<std::uint32_t>(data.size()));
  append(bytes, type);
  bytes += data;
}

/// Channel of an sRGB colour in linear light (IEC 61966-2-1), as glTF's factors are. Rounded, since
/// the last digit of a power differs between machines.
double linear(unsigned channel) {
  const double s = channel / 255.0;
  const double light = s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
  return std::round(light * 1e6) / 1e6;
}

Json linear_colour(const std::string& text, double opacity) {
  unsigned value = 0x808080;
  if (text.size() == 7 && text[0] == '#')
    std::from_chars(text.data() + 1, text.data() + 7, value, 16);
  return {linear((value >> 16U) & 255U), linear((value >> 8U) & 255U), linear(value & 255U),
          opacity};
}

}  // namespace

int GltfFile::add_accessor(Json accessor, int target, const std::string& data) {
  buffer_.resize((buffer_.size() + 3) / 4 * 4, '\0');
  views_.push_back({{"buffer", 0},
                    {"byteOffset", buffer_.size()},
                    {"byteLength", data.size()},
                    {"target", target}});
  buffer_ += data;
  accessor["bufferView"] = views_.size() - 1;
  accessors_.push_back(std::move(accessor));
  return static_cast<int>(accessors_.size()) - 1;
}

int GltfFile::add_surface(const TriMesh& mesh) {
  std::string points;
  std::array<float, 3> lo{};
  std::array<float, 3> hi{};
  for (std::size_t i = 0; i < mesh.points.size(); ++i) {
    for (int axis = 0; axis < 3; ++axis) {
      const auto value = static_cast<float>(mesh.points[i][axis] / kMetre);
      append(points, value);
      const auto k = static_cast<std::size_t>(axis);
      lo[k] = i == 0 ? value : std::min(lo[k], value);
      hi[k] = i == 0 ? value : std::max(hi[k], value);
    }
  }
  std::string corners;
  const bool small = mesh.points.size() < 65535;
  for (const std::array<int, 3>& triangle : mesh.triangles) {
    for (const int corner : triangle) {
      if (small) {
        append(corners, static_cast<std::uint16_t>(corner));
      } else {
        append(corners, static_cast<std::uint32_t>(corner));
      }
    }
  }
  const int surface = add_accessor({{"componentType", kFloat},
                                    {"count", mesh.points.size()},
                                    {"type", "VEC3"},
                                    {"min", lo},
                                    {"max", hi}},
                                   kArrayBuffer, points);
  add_accessor({{"componentType", small ? kUnsignedShort : kUnsignedInt},
                {"count", 3 * mesh.triangles.size()},
                {"type", "SCALAR"}},
               kElementBuffer, corners);
  return surface;  // its corners are the accessor after it
}

int GltfFile::add_material(const std::string& colour, double opacity) {
  const auto [known, fresh] =
      known_materials_.try_emplace({colour, opacity}, static_cast<int>(materials_.size()));
  if (fresh) {
    Json material{{"name", colour},
                  {"pbrMetallicRoughness",
                   {{"baseColorFactor", linear_colour(colour, opacity)},
                    {"metallicFactor", 0.0},
                    {"roughnessFactor", 0.8}}}};
    if (opacity < 1.0) {
      material["alphaMode"] = "BLEND";
      material["doubleSided"] = true;
    }
    materials_.push_back(std::move(material));
  }
  return known->second;
}

int GltfFile::add_mesh(int surface, int material) {
  const auto [known, fresh] =
      known_meshes_.try_emplace({surface, material}, static_cast<int>(meshes_.size()));
  if (fresh) {
    meshes_.push_back({{"primitives", Json::array({{{"attributes", {{"POSITION", surface}}},
                                                    {"indices", surface + 1},
                                                    {"material", material}}})}});
  }
  return known->second;
}

int GltfFile::add_node(Json node) {
  nodes_.push_back(std::move(node));
  return static_cast<int>(nodes_.size()) - 1;
}

std::string GltfFile::bytes(int root) const {
  Json file{{"asset", {{"version", "2.0"}, {"generator", "ribbay"}}},
            {"scene", 0},
            {"scenes", Json::array({{{"nodes", {root}}}})},
            {"nodes", nodes_}};
  if (!meshes_.empty()) {  // the format allows no empty lists
    file["meshes"] = meshes_;
    file["materials"] = materials_;
    file["accessors"] = accessors_;
    file["bufferViews"] = views_;
    file["buffers"] = Json::array({{{"byteLength", buffer_.size()}}});
  }
  std::string chunks;
  append_chunk(chunks, kJsonChunk, file.dump(-1, ' ', false, Json::error_handler_t::replace), ' ');
  if (!meshes_.empty()) append_chunk(chunks, kDataChunk, buffer_, '\0');
  constexpr std::uint32_t header = 12;
  std::string bytes;
  append(bytes, kMagic);
  append(bytes, std::uint32_t{2});
  append(bytes, static_cast<std::uint32_t>(header + chunks.size()));
  return bytes + chunks;
}

Json placement(const Frame& f) {
  // From the largest of the four components, so that nothing is divided by a small number.
  const std::array<double, 4> squares{1.0 + f.x.x - f.y.y - f.z.z, 1.0 - f.x.x + f.y.y - f.z.z,
                                      1.0 - f.x.x - f.y.y + f.z.z, 1.0 + f.x.x + f.y.y + f.z.z};
  std::array<double, 4> q{};
  switch (std::ranges::max_element(squares) - squares.begin()) {
    case 0:
      q = {squares[0], f.x.y + f.y.x, f.z.x + f.x.z, f.y.z - f.z.y};
      break;
    case 1:
      q = {f.x.y + f.y.x, squares[1], f.y.z + f.z.y, f.z.x - f.x.z};
      break;
    case 2:
      q = {f.z.x + f.x.z, f.y.z + f.z.y, squares[2], f.x.y - f.y.x};
      break;
    default:
      q = {f.y.z - f.z.y, f.z.x - f.x.z, f.x.y - f.y.x, squares[3]};
      break;
  }
  const double size = std::sqrt(q[0] * q[0] + q[1] * q[1] + q[2] * q[2] + q[3] * q[3]);
  for (double& component : q) component = component / size + 0.0;  // + 0.0: never a negative zero
  Json json = Json::object();
  if (!(f.origin == Vec3{})) {
    json["translation"] = {f.origin.x / kMetre, f.origin.y / kMetre, f.origin.z / kMetre};
  }
  if (q != std::array<double, 4>{0.0, 0.0, 0.0, 1.0}) json["rotation"] = q;
  return json;
}

}  // namespace ribbay::detail
