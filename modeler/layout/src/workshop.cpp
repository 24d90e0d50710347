#include "workshop.hpp"

#include "base/tolerance.hpp"
#include "edge_bands.hpp"
#include "mirror.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace ribbay::detail {

namespace {

/// The lower corner of `box` in the axes of `frame`, whose axes are parallel to those of the box.
Box in_frame(const Box& box, const Frame& frame) {
  Box local;
  local.add(frame.local_point(box.lo));
  local.add(frame.local_point(box.hi));
  return local;
}

/// Local coordinates of a board: x along its length, z to its face, origin at the lowest corner.
Frame board_frame(const Board& board) {
  Frame frame = frame_zx({}, board.normal, board.along);
  frame.origin = frame.point(in_frame(board.box, frame).lo);
  return frame;
}

/// The outline of points in a board's plane, counter-clockwise in the board's own coordinates.
Loop outline_of(const std::vector<Vec3>& corners, const Frame& frame) {
  Loop loop;
  for (const Vec3 corner : corners) {
    const Vec3 p = frame.local_point(corner);
    loop.push_back({{p.x, p.y}, 0.0});
  }
  return moments({loop, {}}).area < 0.0 ? reversed(std::move(loop)) : loop;
}

Bore to_bore(const Hole& hole, const Frame& frame) {
  return {.at = frame.local_point(hole.at),
          .direction = frame.local_direction(hole.direction),
          .diameter = hole.diameter,
          .depth = hole.depth,
          .through = hole.through,
          .thread = hole.thread,
          .role = hole.role};
}

/// A hole in the face of a board: as deep as the board is thick it goes through.
Bore board_bore(const Hole& hole, const Frame& frame, double thickness) {
  Bore bore = to_bore(hole, frame);
  const double end = bore.at.z + bore.direction.z * bore.depth;
  const bool square = std::abs(bore.direction.z) > 1.0 - kSame;
  if (square && (end <= kSame || end >= thickness - kSame)) bore.through = true;
  return bore;
}

}  // namespace

Part& Workshop::start(std::string name, std::string title, PartKind kind) {
  Part part;
  part.id = id(name);
  part.module = request_.name;
  part.title = std::move(title);
  part.kind = kind;
  made_.parts.push_back(std::move(part));
  return made_.parts.back();
}

namespace {

/// The blank of a part whose bent shape is reflected across the first axis for panels.
std::shared_ptr<const FlatPattern> mirrored_blank(FlatPattern flat) {
  const Reflection across{1, 0.0};
  flat.blank = reflected(Shape{{{flat.blank, {}}}}, across).prisms.front().prism;
  for (BendLine& bend : flat.bends) {
    bend.a.y = -bend.a.y;
    bend.b.y = -bend.b.y;
  }
  return std::make_shared<const FlatPattern>(std::move(flat));
}

}  // namespace

/// The axes across which a mirrored part may be reflected in its own coordinates. A member keeps
/// its section and is turned end for end if need be; a panel keeps its face and its grain, a plank
/// its tongue as well. What is
/// bought is not made over: it stands turned, or, if it is no image of itself, as it is.
void Workshop::stand(Part& part, Shape shape, const Frame& frame) {
  if (!request_.mirrored) {
    part.frame = request_.frame * frame;
    part.shape = std::make_shared<const Shape>(std::move(shape));
    return;
  }
  const Reflection middle{0, request_.size.x / 2};
  constexpr std::array<int, 3> member{2, 0, 1};
  constexpr std::array<int, 2> panel{1, 0};
  constexpr std::array<int, 1> plank{0};  // its tongue and its face stay where they are
  constexpr std::array<int, 3> any{0, 1, 2};
  const bool made = is_made(part.kind);
  const std::span<const int> axes = part.kind == PartKind::member  ? std::span<const int>(member)
                                    : part.kind == PartKind::plank ? std::span<const int>(plank)
                                    : made                         ? std::span<const int>(panel)
                                                                   : std::span<const int>(any);
  StandingShape image = mirror_image(shape, frame, middle, axes);
  if (part.flat && key(image.shape) != key(shape)) part.flat = mirrored_blank(*part.flat);
  part.frame = request_.frame * image.frame;
  part.shape = std::make_shared<const Shape>(made ? std::move(image.shape) : std::move(shape));
}

Box Workshop::to_van(const Box& box) const {
  Box result;
  result.add(to_van(box.lo));
  result.add(to_van(box.hi));
  return result;
}

namespace {

void cover_with_material(Part& part, const Catalogue& catalogue, const std::string& material) {
  const Material& entry_of = entry(catalogue.materials, material);
  part.material = material;
  part.colour = entry_of.colour;
  part.mass_kg = volume(*part.shape) * entry_of.density;
}

}  // namespace

std::string Workshop::add(const Board& board) {
  const Frame frame = board_frame(board);
  const Box local = in_frame(board.box, frame);
  const Loop outline = board.corners.empty() ? rectangle({0, 0}, {local.hi.x, local.hi.y})
                                             : outline_of(board.corners, frame);
  std::vector<Vec2> ways;
  for (const Vec3 way : board.banded) {
    const Vec3 d = frame.local_direction(way);
    ways.push_back({d.x, d.y});
  }
  ShapedBoard shaped{.name = board.name,
                     .title = board.title,
                     .sheet = board.sheet,
                     .frame = frame,
                     .outline = {outline, {}},
                     .cuts = {},
                     .holes = board.holes,
                     .band = board.band,
                     .banded = sides_looking(outline, ways)};
  for (const BoxCut& cut : board.cuts) {
    const Box c = in_frame(cut.box, frame);
    shaped.cuts.push_back(
        {.outline = cut.corners.empty() ? rectangle({c.lo.x, c.lo.y}, {c.hi.x, c.hi.y}, cut.radius)
                                        : outline_of(cut.corners, frame),
         .from = std::max(c.lo.z, 0.0),
         .to = std::min(c.hi.z, board.sheet->thickness),
         .role = cut.role});
  }
  return add(shaped);
}

std::string Workshop::add(const ShapedBoard& board) {
  Shape shape;
  shape.prisms.push_back({{.section = {sawn_outline(board), board.outline.holes},
                           .height = board.sheet->thickness,
                           .cuts = board.cuts,
                           .bores = {},
                           .coarse = {}},
                          {}});
  Prism& prism = shape.prisms.front().prism;
  for (const Hole& hole : board.holes)
    prism.bores.push_back(board_bore(hole, board.frame, prism.height));

  Part& part = start(board.name, board.title, PartKind::panel);
  const Vec3 size = bounds(shape).size();
  stand(part, std::move(shape), board.frame);
  part.stock = {.key = board.sheet->key,
                .length = size.x,
                .width = size.y,
                .thickness = board.sheet->thickness,
                .grain = board.sheet->grain};
  cover_with_material(part, request_.catalogue, board.sheet->material);
  if (board.band != nullptr && !board.banded.empty())
    part.coverings.push_back(band_covering(board, part, request_));
  stock_limits(part);
  return part.id;
}

std::string Workshop::add(const BentBoard& board) {
  Part& part = start(board.name, board.title, board.kind);
  const FlatPattern flat = flat_pattern(board.blank.value_or(board.sheet_metal));
  const Box blank = bounds(Shape{{{flat.blank, {}}}});
  part.flat = std::make_shared<const FlatPattern>(flat);
  part.spring_in = board.spring_in;
  stand(part, folded_shape(board.sheet_metal), board.frame);
  const Vec3 size = blank.size();
  part.stock = {.key = board.sheet->key,
                .length = size.x,
                .width = size.y,
                .thickness = board.sheet->thickness,
                .grain = board.sheet->grain};
  cover_with_material(part, request_.catalogue, board.sheet->material);
  stock_limits(part);
  return part.id;
}

namespace {

/// Tongue and groove as cuts along the edges of a board whose outline takes in the tongue.
std::vector<Cut> edge_work(const CutPlank& cut) {
  const Plank& plank = *cut.plank;
  const Box box = bounds(Shape{{{{cut.outline, plank.thickness, {}, {}, {}}, {}}}});
  const double from = box.lo.x - 1;
  const double to = box.hi.x + 1;
  const double low = (plank.thickness - plank.tongue) / 2;
  const double high = (plank.thickness + plank.tongue) / 2;
  std::vector<Cut> cuts = cut.cuts;
  if (cut.tongue) {
    const Loop strip = rectangle({from, plank.cover}, {to, plank.width + 1});
    cuts.push_back({strip, 0.0, low, CutRole::rebate});
    cuts.push_back({strip, high, plank.thickness, CutRole::rebate});
  }
  if (cut.groove) {
    const double play = plank.play / 2;
    cuts.push_back({rectangle({from, -1}, {to, plank.tongue_length() + plank.play}), low - play,
                    high + play, CutRole::groove});
  }
  return cuts;
}

}  // namespace

std::string Workshop::add(const CutPlank& cut) {
  Shape shape;
  shape.prisms.push_back({{.section = cut.outline,
                           .height = cut.plank->thickness,
                           .cuts = edge_work(cut),
                           .bores = {},
                           .coarse = {}},
                          {}});
  for (const Hole& hole : cut.holes)
    shape.prisms.front().prism.bores.push_back(board_bore(hole, cut.frame, cut.plank->thickness));
  Part& part = start(cut.name, cut.title, PartKind::plank);
  const Vec3 size = bounds(shape).size();
  stand(part, std::move(shape), cut.frame);
  part.order = cut.order;
  part.stock = {.key = cut.plank->key,
                .length = size.x,
                .width = size.y,
                .thickness = cut.plank->thickness,
                .grain = true};
  cover_with_material(part, request_.catalogue, cut.plank->material);
  stock_limits(part);
  return part.id;
}

namespace {

/// The bodies of a fitting that fold, or those that do not.
Shape body_that(bool folds, const Fitting& fitting) {
  const auto other = [&](const auto& body) {
    const auto& moves = fitting.folds->moves;
    return (std::ranges::find(moves, body.name) != moves.end()) != folds;
  };
  std::vector<EquipmentBox> boxes = fitting.boxes;
  std::vector<BodyRound> rounds = fitting.rounds;
  std::erase_if(boxes, other);
  std::erase_if(rounds, other);
  return body_shape(boxes, rounds);
}

/// From a fitting's coordinates as it stands out to those in which it is folded.
Frame fold(const Folds& folds) {
  const double c = std::cos(folds.angle);
  const double s = std::sin(folds.angle);
  Frame turn{{}, {c, 0, -s}, {0, 1, 0}, {s, 0, c}};
  turn.origin = folds.at - turn.direction(folds.at);
  return turn;
}

}  // namespace

std::string Workshop::add_fitting(std::string name, const Fitting& fitting, const Frame& frame,
                                  std::vector<std::string> hosts, bool folded) {
  const std::string folding = name + ".folding";
  std::string id = add_hardware(
      std::move(name), fitting.title, fitting.key, {},
      fitting.folds ? body_that(false, fitting) : body_shape(fitting.boxes, fitting.rounds), frame,
      fitting.mass_kg, std::move(hosts));
  made_.parts.back().colour = fitting.colour;
  if (!fitting.folds) return id;
  add_hardware(folding, fitting.title + ", what folds", {}, {}, body_that(true, fitting),
               folded ? frame * fold(*fitting.folds) : frame, 0.0, {id});
  made_.parts.back().colour = fitting.colour;
  return id;
}

std::string Workshop::add(const Bar& piece) {
  const Frame frame = frame_zx(piece.from, piece.direction, piece.across);
  Shape shape;
  shape.prisms.push_back({{.section = piece.profile->section,
                           .height = piece.length,
                           .cuts = {},
                           .bores = {},
                           .coarse = piece.profile->coarse},
                          {}});
  for (const Hole& hole : piece.holes)
    shape.prisms.front().prism.bores.push_back(to_bore(hole, frame));

  Part& part = start(piece.name, piece.title, PartKind::member);
  stand(part, std::move(shape), frame);
  part.stock = {.key = piece.profile->key, .length = piece.length};
  cover_with_material(part, request_.catalogue, piece.profile->material);
  stock_limits(part);
  return part.id;
}

std::string Workshop::add(const Fastener& fastener) {
  const Bolt& bolt = *fastener.bolt;
  const Vec3 any = std::abs(fastener.direction.z) < 0.5 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
  // Square to it: what goes in askew must not be skewed.
  const Vec3 across = normalized(any - fastener.direction * dot(any, fastener.direction));
  const Frame frame = frame_zx(fastener.at, fastener.direction, across);
  // A countersunk head ends flush, and its length is over all; any other stands on the surface.
  const double sunk = bolt.countersunk ? bolt.head_height : 0.0;
  Shape shape;
  shape.prisms.push_back(
      cylinder(bolt.diameter, bolt.length - sunk, Frame{.origin = {0, 0, sunk}}));
  shape.prisms.push_back(cylinder(bolt.head_diameter, bolt.head_height,
                                  Frame{.origin = {0, 0, sunk - bolt.head_height}}));
  return add_hardware(fastener.name, bolt.title, bolt.key, {}, std::move(shape), frame,
                      bolt.mass_kg, fastener.hosts);
}

double pilot_diameter(const Bolt& screw) {
  return screw.pilot_hole > 0.0 ? screw.pilot_hole : kPilot * screw.diameter;
}

Hole clearance_hole(const Bolt& screw, Vec3 at, Vec3 direction, double thickness) {
  return {.at = at,
          .direction = direction,
          .diameter = screw.clearance_hole,
          .depth = thickness,
          .through = true,
          .role = BoreRole::screw,
          .thread = {}};
}

Hole pilot_hole(const Bolt& screw, Vec3 at, Vec3 direction, double thickness) {
  return {.at = at + direction * thickness,
          .direction = direction,
          .diameter = pilot_diameter(screw),
          .depth = std::max(screw.length - thickness, kCut),
          .through = false,
          .role = BoreRole::pilot,
          .thread = {}};
}

std::string Workshop::add_hardware(std::string name, std::string title, std::string stock,
                                   std::string material, Shape shape, const Frame& frame,
                                   double mass_kg, std::vector<std::string> hosts) {
  Part& part = start(std::move(name), std::move(title), PartKind::hardware);
  stand(part, std::move(shape), frame);
  part.stock = {.key = std::move(stock)};
  part.colour = "#8a9096";
  if (!material.empty()) {
    part.material = material;
    part.colour = entry(request_.catalogue.materials, material).colour;
  }
  part.mass_kg = mass_kg;
  for (std::string& host : hosts) {
    part.hosts.push_back(host.find('/') == std::string::npos ? id(host) : std::move(host));
  }
  return part.id;
}

void Workshop::join(std::string name, std::string kind, std::vector<std::string> parts,
                    std::vector<std::string> hardware) {
  made_.joints.push_back({.id = id(name),
                          .kind = std::move(kind),
                          .parts = std::move(parts),
                          .hardware = std::move(hardware)});
}

namespace {

/// The field of a module that says of how many pieces it is made, and whether that shortens a part
/// which is too long by as much as it measures along the module.
const char* field_of_pieces(const ModuleRequest& request, const Part& part, double needed) {
  Box box;
  box.add(request.from_van(bounds(part).lo));
  box.add(request.from_van(bounds(part).hi));
  const Vec3 size = box.size();
  if (std::min(std::abs(size.x - needed), std::abs(size.y - needed)) > 1.0) return nullptr;
  for (const char* field : {"pieces", "deck_pieces"}) {
    if (request.fields.has(field)) return field;
  }
  return nullptr;
}

}  // namespace

void Workshop::stock_limits(const Part& part) {
  const auto report = [&](double needed, double available, bool fits_turned) {
    Finding finding;
    finding.code = "layout.larger_than_stock";
    finding.subjects = {part.id};
    finding.with("stock", part.stock.key)
        .with("measured", needed, Unit::mm)
        .with("required", available, Unit::mm);
    if (const char* pieces = field_of_pieces(request_, part, needed)) {
      finding.code += "_pieces";
      finding.place = request_.fields.place(pieces);
      finding.with("field", request_.name + "." + pieces);
    } else if (fits_turned) {
      finding.code += "_turned";
      finding.with("field", request_.fields.has("grain") ? request_.name + ".grain"
                                                         : "grain in the table of that part");
    }
    find(std::move(finding));
  };
  const auto bar_limits = [&](const std::vector<double>& lengths) {
    if (lengths.empty()) return;
    const double longest = *std::ranges::max_element(lengths);
    if (part.stock.length > longest + kSame) report(part.stock.length, longest, false);
  };
  if (part.kind == PartKind::member) {
    return bar_limits(entry(request_.catalogue.profiles, part.stock.key).stock_lengths);
  }
  if (part.kind == PartKind::plank) {
    return bar_limits(entry(request_.catalogue.planks, part.stock.key).stock_lengths);
  }
  const Sheet& sheet = entry(request_.catalogue.sheets, part.stock.key);
  double longer = sheet.length;
  double shorter = sheet.width;
  double along = part.stock.length;
  double across = part.stock.width;
  if (!part.stock.grain) {  // may be turned
    if (longer < shorter) std::swap(longer, shorter);
    if (along < across) std::swap(along, across);
  }
  // Only kinds that let the grain be said can turn it.
  const bool can_turn = request_.fields.has("grain") || request_.fields.has("panels");
  const bool turned =
      part.stock.grain && can_turn && across <= longer + kSame && along <= shorter + kSame;
  if (along > longer + kSame) report(along, longer, turned);
  if (across > shorter + kSame) report(across, shorter, turned);
}

}  // namespace ribbay::detail
