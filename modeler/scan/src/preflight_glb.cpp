#include "preflight.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <optional>
#include <vector>

namespace ribbay::detail {

namespace {

using Json = nlohmann::ordered_json;

// Khronos glTF 2.0, 4.4 (binary container) and 5.1.3 (component types).
constexpr std::uint32_t kMagic = 0x46546C67;       // "glTF"
constexpr std::uint32_t kJsonChunk = 0x4E4F534A;   // "JSON"
constexpr std::uint32_t kBytesChunk = 0x004E4942;  // "BIN"
constexpr std::size_t kHead = 12;
constexpr std::size_t kChunkHead = 8;
constexpr int kFloat = 5126;
constexpr int kTriangles = 4;
constexpr int kFan = 6;

Finding not_read(std::string reason) {
  return scan_error("scan.not_read").with("reason", std::move(reason));
}

std::size_t index_size(std::size_t component_type) {
  switch (component_type) {
    case 5121:
      return 1;
    case 5123:
      return 2;
    case 5125:
      return 4;
    default:
      return 0;
  }
}

std::string glb_file(const Json& json, std::string_view bytes) {
  std::string text = json.dump();
  text.resize((text.size() + 3) / 4 * 4, ' ');
  std::string file;
  file.reserve(kHead + 2 * kChunkHead + text.size() + bytes.size() + 3);
  const auto add = [&file](std::size_t number) {
    const auto value = static_cast<std::uint32_t>(number);
    file.append(reinterpret_cast<const char*>(&value), sizeof value);
  };
  const std::size_t padded = (bytes.size() + 3) / 4 * 4;
  add(kMagic);
  add(2);
  add(kHead + 2 * kChunkHead + text.size() + padded);
  add(text.size());
  add(kJsonChunk);
  file += text;
  add(padded);
  add(kBytesChunk);
  file += bytes;
  file.append(padded - bytes.size(), '\0');
  return file;
}

/// Copies what a scan needs of a glTF description, looking at every number on the way.
class GlbCheck {
 public:
  GlbCheck(const Json& from, std::string_view bytes, const ScanLimits& limits)
      : from_(from), bytes_(bytes), limits_(limits) {}

  Result<Json> plain() {
    if (!from_.is_object()) return fail(not_read("its description is no JSON object"));
    for (const Json& extension : list("extensionsRequired")) {
      if (extension.is_string()) {
        return fail(scan_error("scan.compressed").with("extension", extension.get<std::string>()));
      }
    }
    to_["asset"] = {{"version", "2.0"}};
    to_["buffers"] = Json::array({{{"byteLength", bytes_.size()}}});
    to_["bufferViews"] = Json::array();
    to_["accessors"] = Json::array();
    to_["meshes"] = Json::array();
    to_["nodes"] = Json::array();
    const Json& meshes = list("meshes");
    mesh_of_.resize(meshes.size());
    for (std::size_t i = 0; i < meshes.size() && !fault_; ++i) copy_mesh(i, meshes[i]);
    if (!fault_) copy_scene();
    if (fault_) return fail(*fault_);
    if (to_["meshes"].empty() || !any_placed_) return fail(scan_error("scan.no_triangles"));
    return to_;
  }

 private:
  void refuse(Finding fault) {
    if (!fault_) fault_ = std::move(fault);
  }

  const Json& list(const char* name) const {
    static const Json kEmpty = Json::array();
    const auto found = from_.find(name);
    return found != from_.end() && found->is_array() ? *found : kEmpty;
  }

  /// A number that indexes or counts; nullopt when absent or something else.
  static std::optional<std::size_t> number(const Json& object, const char* name) {
    if (!object.is_object()) return std::nullopt;
    const auto found = object.find(name);
    if (found == object.end() || !found->is_number_unsigned()) return std::nullopt;
    return found->get<std::size_t>();
  }
  static std::size_t number_or(const Json& object, const char* name, std::size_t otherwise) {
    return number(object, name).value_or(otherwise);
  }

  const Json* item(const char* name, std::optional<std::size_t> index) {
    const Json& items = list(name);
    if (index && *index < items.size() && items[*index].is_object()) return &items[*index];
    refuse(not_read("it names one of its " + std::string(name) + " that is not there"));
    return nullptr;
  }

  struct Range {
    std::size_t begin = 0;  ///< in the bytes
    std::size_t count = 0;
    std::size_t stride = 0;
    std::size_t component = 0;
  };

  /// The accessor's place in the bytes, inside them for certain.
  std::optional<Range> range(std::optional<std::size_t> index, bool points) {
    const Json* accessor = item("accessors", index);
    if (accessor == nullptr) return std::nullopt;
    const char* type = points ? "VEC3" : "SCALAR";
    const std::size_t component = number_or(*accessor, "componentType", 0);
    const std::size_t size = points ? (component == kFloat ? 12 : 0) : index_size(component);
    if (size == 0 || accessor->value("type", Json()) != type || accessor->contains("sparse")) {
      refuse(scan_error("scan.compressed").with("extension", "sparse or quantized points"));
      return std::nullopt;
    }
    const Json* view = item("bufferViews", number(*accessor, "bufferView"));
    if (view == nullptr) return std::nullopt;
    const Json* buffer = item("buffers", number(*view, "buffer"));
    if (buffer == nullptr) return std::nullopt;
    if (buffer->contains("uri") || number(*view, "buffer") != 0U) {
      refuse(scan_error("scan.other_file"));
      return std::nullopt;
    }
    Range result;
    result.component = component;
    result.count = number_or(*accessor, "count", 0);
    result.stride = number_or(*view, "byteStride", size);
    const std::size_t view_at = number_or(*view, "byteOffset", 0);
    const std::size_t view_size = number_or(*view, "byteLength", 0);
    const std::size_t in_view = number_or(*accessor, "byteOffset", 0);
    if (result.count == 0) {
      refuse(scan_error("scan.no_triangles"));
      return std::nullopt;
    }
    const std::size_t end = bytes_.size();
    const bool inside = view_at <= end && view_size <= end - view_at && in_view <= view_size &&
                        size <= view_size - in_view && result.stride >= size &&
                        result.stride <= 252 &&
                        result.count - 1 <= (view_size - in_view - size) / result.stride;
    if (!inside) {
      const std::size_t from = std::min(view_at, end) + std::min(in_view, end);
      refuse(cut_short(points ? "points" : "indices", result.count,
                       from < end && result.stride > 0 ? (end - from) / result.stride : 0));
      return std::nullopt;
    }
    result.begin = view_at + in_view;
    return result;
  }

  std::size_t add_accessor(const Range& range, bool points) {
    const std::size_t size = points ? 12 : index_size(range.component);
    Json view = {{"buffer", 0},
                 {"byteOffset", range.begin},
                 {"byteLength", (range.count - 1) * range.stride + size}};
    if (points && range.stride != size) view["byteStride"] = range.stride;
    to_["bufferViews"].push_back(std::move(view));
    to_["accessors"].push_back({{"bufferView", to_["bufferViews"].size() - 1},
                                {"componentType", range.component},
                                {"count", range.count},
                                {"type", points ? "VEC3" : "SCALAR"}});
    return to_["accessors"].size() - 1;
  }

  bool indices_good(const Range& indices, std::size_t points) {
    const std::size_t size = index_size(indices.component);
    for (std::size_t i = 0; i < indices.count; ++i) {
      std::size_t index = 0;
      std::memcpy(&index, bytes_.data() + indices.begin + i * indices.stride, size);
      if (index < points) continue;
      refuse(bad_index(static_cast<double>(index), points));
      return false;
    }
    return true;
  }

  void copy_mesh(std::size_t index, const Json& mesh) {
    Json primitives = Json::array();
    if (!mesh.is_object() || !mesh.contains("primitives")) return;
    for (const Json& primitive : mesh["primitives"]) {
      const std::size_t mode = number_or(primitive, "mode", kTriangles);
      if (!primitive.is_object() || !primitive.contains("attributes")) continue;
      if (mode < kTriangles || mode > kFan) continue;  // points and lines
      const auto points = range(number(primitive["attributes"], "POSITION"), true);
      if (!points) return;
      Json copy = {{"attributes", {{"POSITION", add_accessor(*points, true)}}}, {"mode", mode}};
      std::size_t corners = points->count;
      if (primitive.contains("indices")) {
        const auto indices = range(number(primitive, "indices"), false);
        if (!indices || !indices_good(*indices, points->count)) return;
        // Indices lie closely packed (glTF 2.0, 3.6.2.4: no byteStride).
        if (indices->stride != index_size(indices->component)) {
          return refuse(not_read("its indices are not packed"));
        }
        copy["indices"] = add_accessor(*indices, false);
        corners = indices->count;
      }
      triangles_ += mode == kTriangles ? corners / 3 : corners;
      if (triangles_ > limits_.triangles) return refuse(too_many(triangles_, limits_.triangles));
      primitives.push_back(std::move(copy));
    }
    if (primitives.empty()) return;
    mesh_of_[index] = to_["meshes"].size();
    to_["meshes"].push_back({{"primitives", std::move(primitives)}});
  }

  void copy_scene() {
    const Json& nodes = list("nodes");
    if (nodes.size() > limits_.nodes) return refuse(too_many(nodes.size(), limits_.nodes));
    placed_.assign(nodes.size(), false);
    Json roots = Json::array();
    const Json& scenes = list("scenes");
    const std::size_t scene = number_or(from_, "scene", 0);
    const bool stated = scene < scenes.size() && scenes[scene].is_object() &&
                        scenes[scene].contains("nodes") && scenes[scene]["nodes"].is_array();
    for (const Json& root : stated ? scenes[scene]["nodes"] : Json::array()) {
      if (const auto node = copy_node(root, 0)) roots.push_back(*node);
      if (fault_) return;
    }
    to_["scene"] = 0;
    to_["scenes"] = Json::array({{{"nodes", std::move(roots)}}});
  }

  /// Numbers that place a node, finite and as many as they should be.
  bool copy_numbers(const Json& from, const char* name, std::size_t count, Json& to) {
    const auto found = from.find(name);
    if (found == from.end()) return true;
    const bool good = found->is_array() && found->size() == count &&
                      std::ranges::all_of(*found, [](const Json& v) { return v.is_number(); });
    if (good) to[name] = *found;
    if (!good) refuse(not_read("a node's " + std::string(name) + " is not as it should be"));
    return good;
  }

  std::optional<std::size_t> copy_node(const Json& index, std::size_t depth) {
    const Json& nodes = list("nodes");
    if (!index.is_number_unsigned() || index.get<std::size_t>() >= nodes.size()) {
      refuse(not_read("it names a node that is not there"));
      return std::nullopt;
    }
    const std::size_t number_of = index.get<std::size_t>();
    if (placed_[number_of] || depth > limits_.node_depth) {
      refuse(not_read("its nodes do not make a tree"));
      return std::nullopt;
    }
    placed_[number_of] = true;
    const Json& node = nodes[number_of];
    if (!node.is_object()) return std::nullopt;
    Json copy = Json::object();
    if (!copy_numbers(node, "matrix", 16, copy) || !copy_numbers(node, "translation", 3, copy) ||
        !copy_numbers(node, "rotation", 4, copy) || !copy_numbers(node, "scale", 3, copy)) {
      return std::nullopt;
    }
    const auto mesh = number(node, "mesh");
    if (mesh && *mesh < mesh_of_.size() && mesh_of_[*mesh]) {
      copy["mesh"] = *mesh_of_[*mesh];
      any_placed_ = true;
    }
    Json children = Json::array();
    if (node.contains("children") && node["children"].is_array()) {
      for (const Json& child : node["children"]) {
        if (const auto made = copy_node(child, depth + 1)) children.push_back(*made);
        if (fault_) return std::nullopt;
      }
    }
    if (!children.empty()) copy["children"] = std::move(children);
    to_["nodes"].push_back(std::move(copy));
    return to_["nodes"].size() - 1;
  }

  const Json& from_;
  std::string_view bytes_;
  const ScanLimits& limits_;
  Json to_;
  std::vector<std::optional<std::size_t>> mesh_of_;
  std::vector<bool> placed_;
  std::size_t triangles_ = 0;
  bool any_placed_ = false;
  std::optional<Finding> fault_;
};

}  // namespace

Result<std::string> plain_glb(std::string_view bytes, const ScanLimits& limits) {
  if (bytes.size() < kHead + kChunkHead || little<std::uint32_t>(bytes, 0) != kMagic) {
    return fail(not_read("it does not begin like a binary glTF file"));
  }
  if (little<std::uint32_t>(bytes, 4) != 2) return fail(not_read("it is not of glTF version 2"));
  const std::size_t says = little<std::uint32_t>(bytes, 8);
  if (says > bytes.size()) return fail(cut_short("bytes", says, bytes.size()));
  const std::size_t text_size = little<std::uint32_t>(bytes, kHead);
  const std::size_t text_at = kHead + kChunkHead;
  if (text_size > bytes.size() - text_at || little<std::uint32_t>(bytes, kHead + 4) != kJsonChunk) {
    return fail(cut_short("bytes", text_at + text_size, bytes.size()));
  }
  std::string_view body;
  const std::size_t chunk = text_at + text_size;
  if (bytes.size() - chunk >= kChunkHead &&
      little<std::uint32_t>(bytes, chunk + 4) == kBytesChunk) {
    body = bytes.substr(chunk + kChunkHead);
    body = body.substr(0, little<std::uint32_t>(bytes, chunk));
  }
  const std::string_view text = bytes.substr(text_at, text_size);
  const Json json = Json::parse(text.begin(), text.end(), nullptr, false);
  if (json.is_discarded()) return fail(not_read("its description is no JSON"));
  const Result<Json> plain = GlbCheck(json, body, limits).plain();
  if (!plain) return fail(plain.error());
  return glb_file(*plain, body);
}

}  // namespace ribbay::detail
