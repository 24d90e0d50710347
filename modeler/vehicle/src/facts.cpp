#include "loft.hpp"

#include <algorithm>

namespace ribbay {

using namespace detail;

namespace {

/// Gathers facts under dotted names.
class Facts {
 public:
  using List = std::vector<std::pair<std::string, Quantity>>;

  void add(const std::string& of, std::initializer_list<std::pair<const char*, double>> lengths) {
    for (const auto& [name, mm] : lengths) list_.push_back({of + name, {mm, dimension::length}});
  }
  void mass(const std::string& name, double kg) { list_.push_back({name, {kg, dimension::mass}}); }
  void mass(const std::string& name, std::optional<double> kg) {
    if (kg) mass(name, *kg);
  }
  void share(const std::string& name, std::optional<double> value) {
    if (value) list_.push_back({name, {*value, dimension::none}});
  }
  List sorted() && {
    std::ranges::sort(list_, {}, &List::value_type::first);
    return std::move(list_);
  }

 private:
  List list_;
};

void add_room(Facts& facts, const Vehicle& vehicle) {
  double floor_width = kFar;
  for (const Station& s : vehicle.stations) {
    floor_width = std::min(floor_width, s.left.front().half_width + s.right.front().half_width);
    facts.add("station." + s.name + ".", {{"x", s.x}, {"uncertainty", s.uncertainty}});
  }
  facts.add("", {{"floor_width", floor_width},
                 {"floor_thickness", vehicle.floor_thickness},
                 {"rear", vehicle.x_min()},
                 {"front", vehicle.x_max()},
                 {"length", vehicle.x_max() - vehicle.x_min()},
                 {"rear_sill", vehicle.rear_sill}});
  if (const auto roof = roof_height(vehicle, vehicle.x_min(), vehicle.x_max(), 0.0, 0.0)) {
    facts.add("", {{"roof_height", *roof}});
  }
  for (const Diagonal& d : vehicle.diagonals) {
    facts.add("diagonal." + d.name + ".", {{"length", d.length}});
  }
}

void add_standing(Facts& facts, const Vehicle& vehicle) {
  for (const Rib& r : vehicle.ribs) {
    facts.add("rib." + r.name + ".",
              {{"x", r.x}, {"width", r.width}, {"depth", r.depth}, {"from", r.from}, {"to", r.to}});
    if (r.wall > 0.0) facts.add("rib." + r.name + ".", {{"wall", r.wall}});
  }
  for (const Bow& b : vehicle.bows) {
    double roof = kFar;
    for (const Polygon3& part : bow_surface(vehicle, b)) roof = std::min(roof, lowest(part));
    facts.add("bow." + b.name + ".", {{"x", b.x},
                                      {"width", b.width},
                                      {"depth", b.depth},
                                      {"from", b.from},
                                      {"to", b.to},
                                      {"bottom", roof - protrusion(vehicle, b)}});
  }
  for (const WheelArch& a : vehicle.arches) {
    facts.add("arch." + a.name + ".", {{"from", a.from},
                                       {"to", a.to},
                                       {"height", a.height},
                                       {"half_width", a.half_width},
                                       {"radius", a.radius},
                                       {"edge_radius", a.edge_radius}});
  }
  for (const Opening& o : vehicle.openings) {
    facts.add("opening." + o.name + ".", {{"from", o.from},
                                          {"to", o.to},
                                          {"bottom", o.bottom},
                                          {"top", o.top},
                                          {"width", o.to - o.from},
                                          {"height", o.top - o.bottom},
                                          {"intrudes", o.leaf.intrudes},
                                          {"clear_way", o.leaf.clear_way}});
  }
  for (const Channel& c : vehicle.channels) {
    facts.add(
        "channel." + c.name + ".",
        {{"from", c.from}, {"to", c.to}, {"bottom", c.bottom}, {"top", c.top}, {"depth", c.depth}});
  }
}

void add_floor(Facts& facts, const Vehicle& vehicle) {
  for (const FloorLayer& layer : vehicle.floor_layers) {
    facts.add("floor." + layer.name + ".", {{"thickness", layer.thickness}});
  }
  for (const Joist& j : vehicle.joists) {
    facts.add("joist." + j.name + ".",
              {{"at", j.at}, {"width", j.width}, {"from", j.from}, {"to", j.to}});
  }
  for (const HardPoint& p : vehicle.hard_points) {
    facts.add("hard_point." + p.name + ".", {{"x", p.at.x}, {"y", p.at.y}});
  }
  for (const NoDrill& n : vehicle.no_drill) {
    facts.add(
        "no_drill." + n.name + ".",
        {{"from", n.from}, {"to", n.to}, {"right", n.right}, {"left", n.left}, {"below", n.below}});
  }
}

void add_axle(Facts& facts, const std::string& of, const std::optional<Axle>& axle) {
  if (!axle) return;
  facts.add(of, {{"x", axle->x}, {"track", axle->track}});
  facts.mass(of + "limit", axle->limit_kg);
  facts.mass(of + "empty", axle->empty_kg);
  facts.mass(of + "wheel_limit", axle->wheel_limit_kg);
}

void add_masses(Facts& facts, const Vehicle& vehicle) {
  add_axle(facts, "axle.front.", vehicle.front_axle);
  add_axle(facts, "axle.rear.", vehicle.rear_axle);
  if (vehicle.wheelbase) facts.add("", {{"wheelbase", *vehicle.wheelbase}});
  facts.mass("gross_limit", vehicle.gross_limit_kg);
  if (!vehicle.weighbridge) return;
  const Weighbridge& w = *vehicle.weighbridge;
  facts.mass("weighbridge.front", w.front_kg);
  facts.mass("weighbridge.rear", w.rear_kg);
  facts.mass("weighbridge.left", w.left_kg);
  facts.mass("weighbridge.right", w.right_kg);
  facts.mass("weighbridge.total", w.total_kg);
  facts.share("weighbridge.fuel", w.fuel);
}

}  // namespace

std::vector<std::pair<std::string, Quantity>> vehicle_facts(const Vehicle& vehicle) {
  Facts facts;
  add_room(facts, vehicle);
  add_standing(facts, vehicle);
  add_floor(facts, vehicle);
  add_masses(facts, vehicle);
  return std::move(facts).sorted();
}

}  // namespace ribbay
