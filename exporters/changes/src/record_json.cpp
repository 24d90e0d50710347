#include "changes/parts_record.hpp"
#include "roles.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace ribbay {

namespace {

using namespace detail;
using Json = nlohmann::ordered_json;

/// Rounding hides the last bits, in which machines may differ.
Json number(double value) {
  const double rounded = std::round(value * 1e6) / 1e6;
  return rounded == 0.0 ? 0.0 : rounded;  // never -0
}

Json point(Vec2 p) {
  return {number(p.x), number(p.y)};
}
Json point(Vec3 p) {
  return {number(p.x), number(p.y), number(p.z)};
}

template <class Items, class ToJson>
Json list(const Items& items, ToJson to_json) {
  Json array = Json::array();
  for (const auto& item : items) array.push_back(to_json(item));
  return array;
}

Json loop_json(const Loop& loop) {
  return list(loop, [](const Corner& c) -> Json {
    return {number(c.at.x), number(c.at.y), number(c.radius)};
  });
}

Json cut_json(const Cut& cut) {
  return {{"role", name_in(kCutRoles, cut.role)},
          {"from_mm", number(cut.from)},
          {"to_mm", number(cut.to)},
          {"outline_mm", loop_json(cut.outline)}};
}

Json bore_json(const Bore& bore) {
  return {{"role", name_in(kBoreRoles, bore.role)},
          {"at_mm", point(bore.at)},
          {"way", point(bore.direction)},
          {"diameter_mm", number(bore.diameter)},
          {"depth_mm", number(bore.depth)},
          {"through", bore.through},
          {"thread", bore.thread}};
}

Json bend_json(const BendLine& bend) {
  return {{"a_mm", point(bend.a)},
          {"b_mm", point(bend.b)},
          {"angle_rad", number(bend.angle)},
          {"radius_mm", number(bend.radius)}};
}

Json finish_json(const FinishRecord& finish) {
  return {{"finish", finish.finish},
          {"face", finish.face},
          {"back", finish.back},
          {"edges_mm", list(finish.edges, [](Vec2 p) { return point(p); })},
          {"thickness_mm", number(finish.thickness)},
          {"turn_over_mm", number(finish.turn_over)}};
}

Json part_json(const PartRecord& part) {
  return {{"id", part.id},
          {"module", part.module},
          {"title", part.title},
          {"mark", part.mark},
          {"kind", name_in(kMadeKinds, part.kind)},
          {"stock", part.stock},
          {"material", part.material},
          {"cut_mm", {number(part.length), number(part.width), number(part.thickness)}},
          {"grain", part.grain},
          {"finished_mm", point(part.finished)},
          {"height_mm", number(part.height)},
          {"outline_mm", loop_json(part.outline.outer)},
          {"openings_mm", list(part.outline.holes, loop_json)},
          {"cuts", list(part.cuts, cut_json)},
          {"holes", list(part.bores, bore_json)},
          {"bends", list(part.bends, bend_json)},
          {"finishes", list(part.finishes, finish_json)},
          {"form", part.form}};
}

}  // namespace

OutputFile parts_file(const PartsRecord& record) {
  Json json = {{"schema", kPartsSchema},
               {"project", record.project},
               {"show", name_in(kLengthStyles, record.show)}};
  json["sections"] = Json::object();
  for (const auto& [key, section] : record.sections) {
    json["sections"][key] = {
        {"size_mm", point(section.size)}, {"digest", section.digest}, {"turns", section.turns}};
  }
  json["parts"] = list(record.parts, part_json);
  json["bought"] = list(record.bought, [](const BoughtRecord& item) -> Json {
    return {{"key", item.key}, {"title", item.title}, {"count", item.count}};
  });
  return {std::string(kPartsPath), json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n",
          "what each made part is, for a change notice"};
}

}  // namespace ribbay
