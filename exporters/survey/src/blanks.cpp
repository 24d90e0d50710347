#include "survey/blanks.hpp"

namespace ribbay {

namespace {

constexpr int kLayers = 3;  // of the floor; more than vans mostly have

/// Hands out the numbers.
class Form {
 public:
  explicit Form(const SurveyOptions& options) : options_(options) {}

  std::vector<BlankTable> fill() {
    vehicle();
    for (int s = 1; s <= options_.stations; ++s) station(s);
    diagonals();
    ribs("left");
    ribs("right");
    bows();
    arch("left");
    arch("right");
    openings();
    channel("left");
    channel("right");
    floor();
    joists();
    no_drill("a");
    no_drill("b");
    axle("front");
    axle("rear");
    weighbridge();
    return std::move(tables_);
  }

 private:
  BlankTable& table(std::string name, std::string title, std::string remark = {}) {
    return tables_.emplace_back(
        BlankTable{std::move(name), std::move(title), std::move(remark), {}});
  }
  void ask(BlankTable& to, std::string key, std::string label) {
    to.fields.push_back({std::move(key), false, {{++last_, std::move(label)}}, {}});
  }
  static void say(BlankTable& to, std::string key, std::string value) {
    to.fields.push_back({std::move(key), false, {}, std::move(value)});
  }
  /// One blank at each height from `first` up.
  void ask_heights(BlankTable& to, std::string key, const std::string& what, int first,
                   std::string fixed = {}) {
    BlankField field{std::move(key), true, {}, std::move(fixed)};
    for (int h = first; h <= options_.heights; ++h)
      field.blanks.push_back({++last_, what + std::to_string(h)});
    to.fields.push_back(std::move(field));
  }

  void vehicle() {
    BlankTable& t = table("vehicle", "The van, and how it was measured");
    ask(t, "title", "what you call the van");
    ask(t, "surveyed", "skin, rib_face or lining?");
    ask(t, "uncertainty", "a width may be out by");
    ask(t, "rear_sill", "inner edge of the rear sill");
    ask(t, "floor_thickness", "floor surface to joists");
    ask(t, "gross_limit", "gross mass on the plate");
  }

  static std::string station_name(int s) { return "s" + std::to_string(s); }

  void station(int s) {
    const std::string place = s == 1                   ? ", at the rear"
                              : s == options_.stations ? ", at the partition face"
                                                       : "";
    BlankTable& t = table("station." + station_name(s), "Station " + std::to_string(s) + place,
                          "Heights rise from the floor; the last one is the roof.");
    ask(t, "x", "from the rear edge of the load floor");
    ask_heights(t, "heights", "height ", 2, "0");
    ask_heights(t, "left", "left half width at height ", 1);
    ask_heights(t, "right", "right half width at height ", 1);
    ask_heights(t, "full", "wall to wall at height ", 1);
  }

  static std::string floor_corner(int s, const std::string& side) {
    return "{ station = \"" + station_name(s) + "\", side = \"" + side + "\", height = 0 }";
  }

  void diagonals() {
    const int last = options_.stations;
    BlankTable& one = table("diagonal.floor_left_right", "Floor diagonal, rear left to front right",
                            "Floor corners of the first and the last station.");
    say(one, "from", floor_corner(1, "left"));
    say(one, "to", floor_corner(last, "right"));
    ask(one, "length", "rear left to front right");
    BlankTable& two =
        table("diagonal.floor_right_left", "Floor diagonal, rear right to front left");
    say(two, "from", floor_corner(1, "right"));
    say(two, "to", floor_corner(last, "left"));
    ask(two, "length", "rear right to front left");
    for (int s = 1; s <= last; ++s) {
      BlankTable& t =
          table("diagonal.across_" + station_name(s), "Crosswise at station " + std::to_string(s),
                "Floor on the left to a measured height on the right.");
      say(t, "from", floor_corner(s, "left"));
      say(t, "to.station", "\"" + station_name(s) + "\"");
      say(t, "to.side", "\"right\"");
      ask(t, "to.height", "upper end: at height");
      ask(t, "length", "floor left to there, right");
    }
  }

  void ribs(const std::string& side) {
    BlankTable& t = table("rib." + side, "Ribs on the " + side,
                          "A row at one pitch. Copy the table for ribs that stand apart.");
    say(t, "side", "\"" + side + "\"");
    ask(t, "x", "middle of the first one");
    ask(t, "count", "how many");
    ask(t, "pitch", "middle to middle");
    ask(t, "last", "middle of the last one");
    ask(t, "width", "width along the van");
    ask(t, "depth", "depth into the room");
    ask(t, "from", "lower end above the floor");
    ask(t, "to", "upper end above the floor");
    ask(t, "steel", "a magnet holds: true or false");
  }

  void bows() {
    BlankTable& t = table("bow.roof", "Bows under the roof",
                          "A row at one pitch. Copy the table for bows that stand apart.");
    ask(t, "x", "middle of the first one");
    ask(t, "count", "how many");
    ask(t, "pitch", "middle to middle");
    ask(t, "width", "width along the van");
    ask(t, "depth", "depth below the roof skin");
  }

  void arch(const std::string& side) {
    BlankTable& t = table("arch." + side, "Wheel arch on the " + side);
    say(t, "side", "\"" + side + "\"");
    ask(t, "from", "rear end");
    ask(t, "to", "front end");
    ask(t, "height", "top above the floor");
    ask(t, "half_width", "centre line to its face");
    ask(t, "radius", "rounding of its upper ends");
  }

  void openings() {
    BlankTable& side = table("opening.side_door", "Side door, its clear opening");
    ask(side, "kind", "sliding or hinged");
    ask(side, "side", "left or right");
    ask(side, "from", "rear door post");
    ask(side, "to", "front door post");
    ask(side, "bottom", "lower edge above the floor");
    ask(side, "top", "upper edge above the floor");
    BlankTable& rear = table("opening.rear_doors", "Rear doors, clear, from the centre line");
    say(rear, "kind", "\"rear\"");
    ask(rear, "from", "right edge, with minus");
    ask(rear, "to", "left edge");
    ask(rear, "bottom", "lower edge above the floor");
    ask(rear, "top", "upper edge above the floor");
  }

  void channel(const std::string& side) {
    BlankTable& t = table("channel." + side, "Room behind the wall at the sill, " + side,
                          "Where cables and hoses can run.");
    say(t, "side", "\"" + side + "\"");
    ask(t, "from", "rear end");
    ask(t, "to", "front end");
    ask(t, "bottom", "lower edge above the floor");
    ask(t, "top", "upper edge above the floor");
    ask(t, "depth", "depth behind the wall");
  }

  void floor() {
    for (int layer = 1; layer <= kLayers; ++layer) {
      BlankTable& t = table("floor.layers", "Floor layer " + std::to_string(layer) + " from above",
                            layer == 1 ? "Their sum is the floor_thickness of the vehicle: give "
                                         "the one or the other. Copy the table for further layers."
                                       : "");
      t.in_list = true;
      ask(t, "name", "what it is: deck, mat");
      ask(t, "thickness", "thickness");
    }
  }

  void joists() {
    BlankTable& t = table("joist.cross", "Floor joists, across the van");
    ask(t, "at", "middle of the first one");
    ask(t, "count", "how many");
    ask(t, "pitch", "middle to middle");
    ask(t, "width", "width that a bolt may hit");
  }

  void no_drill(const std::string& name) {
    BlankTable& t = table("no_drill." + name, "Never drill here: zone " + name + " of the floor",
                          "Copy the table for further ones.");
    ask(t, "from", "rear end");
    ask(t, "to", "front end");
    ask(t, "right", "right edge, right with minus");
    ask(t, "left", "left edge, right with minus");
    ask(t, "what", "what lies below: tank, line");
  }

  void axle(const std::string& end) {
    BlankTable& t = table("axle." + end, end == "front" ? "Front axle" : "Rear axle");
    ask(t, "x", "to its wheel centres");
    ask(t, "track", "left wheel to right wheel");
    ask(t, "limit", "largest load on the plate");
    ask(t, "empty", "load, van empty");
  }

  void weighbridge() {
    BlankTable& t = table("weighbridge", "Weighbridge, the van empty",
                          "Its readings take the place of empty of the axles.");
    ask(t, "date", "day, as 2026-09-30");
    ask(t, "front", "under the front axle");
    ask(t, "rear", "under the rear axle");
    ask(t, "fuel", "share of a full tank: 0.6");
    ask(t, "persons", "people aboard, best none");
  }

  SurveyOptions options_;
  int last_ = 0;
  std::vector<BlankTable> tables_;
};

/// One line of the file with its remark in a column of its own.
std::string line(const std::string& value, const Blank& blank) {
  std::string text = value;
  text.resize(std::max<std::size_t>(text.size() + 2, 26), ' ');
  return text + "# " + std::to_string(blank.number) + "  " + blank.label + "\n";
}

std::string field_text(const BlankField& field) {
  if (field.blanks.empty()) return field.key + " = " + field.fixed + "\n";
  if (!field.list) return line(field.key + " = \"\"", field.blanks.front());
  std::string text = field.key + " = [\n";
  if (!field.fixed.empty()) text += "  " + field.fixed + ",\n";
  for (const Blank& blank : field.blanks) text += line("  \"\",", blank);
  return text + "]\n";
}

}  // namespace

std::vector<BlankTable> survey_blanks(const SurveyOptions& options) {
  return Form(options).fill();
}

std::string survey_file(const SurveyOptions& options) {
  const bool inches = options.unit == LengthStyle::inches;
  std::string text =
      "# The numbers behind # are those of the measuring form. Type each figure between its "
      "quotes\n"
      "# with its unit, " +
      std::string(inches ? "\"34 5/8 in\" or \"6600 lb\"" : "\"879 mm\" or \"3500 kg\"") +
      "; where a plain number is meant, such as a count, or a date, take the quotes away.\n"
      "# What the van does not have goes out with its whole table. Then: ribbay survey THIS_FILE\n"
      "format = 1\n";
  for (const BlankTable& table : survey_blanks(options)) {
    text += "\n# " + table.title + (table.remark.empty() ? "" : ". " + table.remark) + "\n" +
            (table.in_list ? "[[" + table.name + "]]" : "[" + table.name + "]") + "\n";
    for (const BlankField& field : table.fields) text += field_text(field);
  }
  return text;
}

}  // namespace ribbay
