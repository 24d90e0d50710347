#include "base/text.hpp"
#include "base/tolerance.hpp"
#include "reader.hpp"
#include "schemas.hpp"
#include "symmetry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

Face face_of(const std::string& word) {
  return static_cast<Face>(std::ranges::find(face_names(), word) - face_names().begin());
}

std::vector<BodyRound> read_rounds(const Record& record) {
  std::vector<BodyRound> rounds;
  for (const auto& [name, round] : record.tables("round")) {
    const std::string& along = round.text("along");
    const Vec3 axis = along == "x" ? Vec3{1, 0, 0} : along == "y" ? Vec3{0, 1, 0} : Vec3{0, 0, 1};
    rounds.push_back(
        {name, round.vec3("at"), axis, round.number("diameter"), round.number("length")});
  }
  return rounds;
}

void add_air(Equipment& item, const Record& record) {
  if (!record.has("air")) return;
  for (const std::string& face : face_names()) {
    if (const auto gap = record.table("air").number_if(face)) item.air[face_of(face)] = *gap;
  }
}

void add_hot(Equipment& item, const Record& record) {
  if (!record.has("hot")) return;
  const Record& hot = record.table("hot");
  for (const std::string& face : face_names()) {
    if (!hot.has(face)) continue;
    const Record& one = hot.table(face);
    item.hot[face_of(face)] = {one.number("reaches"), one.number("gap")};
  }
}

void add_comes_out(Equipment& item, const Record& record) {
  if (!record.has("comes_out")) return;
  const Record& way = record.table("comes_out");
  item.comes_out = {.towards = face_of(way.text("towards")),
                    .fasteners = static_cast<int>(way.number("fasteners")),
                    .tool = way.text_or("tool", ""),
                    .on_sled = way.flag("on_sled")};
}

OpensWay way_of(const std::string& word) {
  return word == "swing"  ? OpensWay::swing
         : word == "lift" ? OpensWay::lift
         : word == "drop" ? OpensWay::drop
                          : OpensWay::pull;
}

/// The edge that a front turns about when its file does not say.
Face usual_hinge(Face face, OpensWay way) {
  if (way == OpensWay::drop) return Face::bottom;
  if (way == OpensWay::lift) return face == Face::top ? Face::back : Face::top;
  return face == Face::left || face == Face::right ? Face::back : Face::left;
}

/// How far a leaf of this size comes out of its face.
double own_reach(const OpensFront& front, Vec3 size) {
  const double across = std::abs(dot(size, outward(front.hinge)));
  return across * std::sin(std::min(front.angle, std::numbers::pi / 2.0));
}

}  // namespace

std::vector<EquipmentBox> CatalogueReader::read_boxes(const Record& record) {
  std::vector<EquipmentBox> boxes;
  for (const auto& [name, box] : record.tables("box")) {
    boxes.push_back({name, box.vec3("at"), box.vec3("size")});
  }
  return boxes;
}

void CatalogueReader::check_body(const std::string& key, const Record& record) {
  if (!record.tables("box").empty() || !record.tables("round").empty()) return;
  report("catalogue.no_body", record.place(), key);
}

/// Reports a point that lies outside the body.
void CatalogueReader::check_inside(const std::string& key, const Record& point,
                                   const std::string& what, const Box& body) {
  const Vec3 at = point.vec3("at");
  const Box around = grown(body, kSame);
  const Vec3 size = body.size();
  bool inside = true;
  for (int axis = 0; axis < 3; ++axis) {
    inside = inside && at[axis] >= around.lo[axis] && at[axis] <= around.hi[axis];
  }
  if (inside) return;
  report("catalogue.outside", point.place("at"), key)
      .with("what", what)
      .with("x", at.x, Unit::mm)
      .with("y", at.y, Unit::mm)
      .with("z", at.z, Unit::mm)
      .with("width", size.x, Unit::mm)
      .with("depth", size.y, Unit::mm)
      .with("height", size.z, Unit::mm);
}

std::vector<FixingHole> CatalogueReader::read_holes(const std::string& key, const Record& record,
                                                    const std::string& field, const Box& body) {
  std::vector<FixingHole> holes;
  for (const auto& [name, hole] : record.tables(field)) {
    check_inside(key, hole, field + " " + name, body);
    holes.push_back(
        {name, hole.vec3("at"), outward(face_of(hole.text("into"))), hole.number("diameter")});
  }
  return holes;
}

void CatalogueReader::add_folds(Fitting& item, const Record& record) {
  if (!record.has("folds")) return;
  const Record& folds = record.table("folds");
  item.folds = Folds{folds.vec3("at"), folds.number("angle"), folds.texts("moves")};
  std::vector<std::string> known;
  for (const EquipmentBox& box : item.boxes) known.push_back(box.name);
  for (const BodyRound& round : item.rounds) known.push_back(round.name);
  for (const std::string& name : item.folds->moves) {
    if (std::ranges::find(known, name) != known.end()) continue;
    Finding finding = input_error("catalogue.no_such_body", folds.place("moves"));
    finding.subjects = {item.key};
    finding.with("found", name).with("known", join(known, ", "));
    if (const std::string near = nearest(name, known); !near.empty()) finding.with("nearest", near);
    findings_.push_back(std::move(finding));
  }
}

void CatalogueReader::add_fitting(const std::string& key, const Record& record) {
  auto item = named<Fitting>(key, record);
  const std::size_t before = findings_.size();
  item.use = record.text("use");
  item.cut_out = record.number_if("cut_out").value_or(0.0);
  item.hold_n = record.number_if("hold").value_or(0.0);
  item.mass_kg = record.number("mass");
  item.colour = record.text("colour");
  good_colour(key, record);
  item.boxes = read_boxes(record);
  item.rounds = read_rounds(record);
  check_body(key, record);
  if (findings_.size() != before) return;
  item.holes = read_holes(key, record, "hole", bounds(body_shape(item.boxes, item.rounds)));
  add_folds(item, record);
  if (findings_.size() == before) catalogue_.fittings.emplace(key, std::move(item));
}

void CatalogueReader::add_equipment(const std::string& key, const Record& record) {
  auto item = named<Equipment>(key, record);
  const std::size_t before = findings_.size();
  item.mass_kg = record.number("mass");
  item.empty_mass_kg = record.number_if("empty_mass").value_or(item.mass_kg);
  item.life_years = record.number_if("life").value_or(0.0);
  item.colour = record.text("colour");
  good_colour(key, record);
  if (record.has("empty_mass")) {
    larger(key, record, "mass", item.empty_mass_kg - kSame, "its empty mass", Unit::kg);
  }
  item.boxes = read_boxes(record);
  item.rounds = read_rounds(record);
  item.imported = read_shape(key, record);
  if (record.has("shape") && !item.imported) return;
  if (!item.imported) check_body(key, record);
  if (findings_.size() != before) return;
  check_start(item, record);
  add_feet(item, record);
  add_air(item, record);
  add_hot(item, record);
  add_comes_out(item, record);
  item.fixings = read_holes(key, record, "fixing", item.bounds());
  add_ports(item, record);
  add_opens(item, record);
  if (item.mirror.symmetric) check_symmetry(item, record);
  if (findings_.size() == before) catalogue_.equipment.emplace(key, std::move(item));
}

void CatalogueReader::check_start(const Equipment& item, const Record& record) {
  if (length(item.body().lo) < kSame) return;
  if (item.boxes.empty() && item.imported) {
    report("catalogue.first_box", record.place("shape_at"), item.key);
    return;
  }
  const auto& [name, first] = record.tables(item.boxes.empty() ? "round" : "box").front();
  report("catalogue.first_box", first.place("at"), item.key + "." + name);
}

void CatalogueReader::add_feet(Equipment& item, const Record& record) {
  const Box bounds = item.bounds();
  for (const auto& [name, foot] : record.tables("feet")) {
    const Vec3 at = foot.vec3("at");
    item.feet.push_back(at);
    if (at.x < bounds.lo.x || at.x > bounds.hi.x || at.y < bounds.lo.y || at.y > bounds.hi.y) {
      report("catalogue.foot_beside", foot.place("at"), item.key)
          .with("foot", name)
          .with("x", at.x, Unit::mm)
          .with("y", at.y, Unit::mm)
          .with("width", bounds.hi.x, Unit::mm)
          .with("depth", bounds.hi.y, Unit::mm);
    }
  }
}

void CatalogueReader::add_ports(Equipment& item, const Record& record) {
  const Box body = item.bounds();
  for (const auto& [name, port] : record.tables("port")) {
    check_inside(item.key, port, "port " + name, body);
    item.ports.push_back({name, port.text("kind"), port.vec3("at"), face_of(port.text("out")),
                          port.number("diameter")});
  }
}

void CatalogueReader::add_opens(Equipment& item, const Record& record) {
  for (const auto& [name, opens] : record.tables("opens")) {
    OpensFront front{.name = name,
                     .face = face_of(opens.text("face")),
                     .way = way_of(opens.text("way")),
                     .leaf = opens.text_or("leaf", "")};
    front.hinge =
        opens.has("hinge") ? face_of(opens.text("hinge")) : usual_hinge(front.face, front.way);
    const bool pulled = front.way == OpensWay::pull;
    front.angle = pulled ? 0.0 : opens.number("angle");
    if (pulled && !opens.has("reach")) {
      report_missing(item.key + "." + name, opens, "what is pulled out", "reach");
    }
    if (!good_hinge(item, front, opens) || !good_leaf(item, front, opens)) continue;
    const auto leaf = std::ranges::find(item.boxes, front.leaf, &EquipmentBox::name);
    front.reach = opens.number_if("reach").value_or(
        own_reach(front, leaf == item.boxes.end() ? item.body().size() : leaf->size));
    item.opens.push_back(std::move(front));
  }
}

/// Reports a front that cannot turn about the edge it should.
bool CatalogueReader::good_hinge(const Equipment& item, const OpensFront& front,
                                 const Record& record) {
  if (front.way == OpensWay::pull) return true;
  const Vec3 axis = cross(outward(front.face), outward(front.hinge));
  const bool meets = length(axis) > 0.5;
  const bool upright = std::abs(axis.z) > 0.5;
  const bool lid = front.face == Face::top;
  const bool good = front.way == OpensWay::swing  ? upright
                    : front.way == OpensWay::lift ? lid || front.hinge == Face::top
                                                  : front.hinge == Face::bottom;
  if (meets && good) return true;
  report("catalogue.hinge_side", record.place(), item.key + "." + front.name)
      .with("way", record.text("way"))
      .with("face", name(front.face))
      .with("hinge", name(front.hinge));
  return false;
}

/// Reports a leaf that is no box, the main body, or moved by another front.
bool CatalogueReader::good_leaf(const Equipment& item, const OpensFront& front,
                                const Record& record) {
  if (front.leaf.empty()) return true;
  std::string free;
  for (std::size_t i = 1; i < item.boxes.size(); ++i) {
    const std::string& box = item.boxes[i].name;
    if (std::ranges::find(item.opens, box, &OpensFront::leaf) != item.opens.end()) continue;
    if (box == front.leaf) return true;
    free += (free.empty() ? "" : ", ") + box;
  }
  report("catalogue.leaf", record.place("leaf"), item.key + "." + front.name)
      .with("found", front.leaf)
      .with("boxes", free.empty() ? "none" : free);
  return false;
}

void CatalogueReader::check_symmetry(const Equipment& item, const Record& record) {
  const std::string alone = without_image(item);
  if (alone.empty()) return;
  report("catalogue.not_symmetric", record.place("mirror"), item.key).with("alone", alone);
}

}  // namespace ribbay::detail
