#include "flow.hpp"

#include "app/publish.hpp"
#include "assembly/assembly.hpp"
#include "base/messages.hpp"
#include "bench/bench_set.hpp"
#include "bench/templates.hpp"
#include "called_gaps.hpp"
#include "candidates.hpp"
#include "changes_command.hpp"
#include "clearance/clearance.hpp"
#include "confirm_advice.hpp"
#include "console.hpp"
#include "costs/quote.hpp"
#include "costs/stock_list.hpp"
#include "cutplans/cut_pages.hpp"
#include "dates.hpp"
#include "drawings/drawings.hpp"
#include "drawings/steps.hpp"
#include "findings/findings_page.hpp"
#include "judged_tallies.hpp"
#include "judgement/judgement.hpp"
#include "labels/labels.hpp"
#include "layout/project.hpp"
#include "made_from.hpp"
#include "mesh/glb.hpp"
#include "mesh/stl.hpp"
#include "pdf/pdf.hpp"
#include "report/report.hpp"
#include "reread.hpp"
#include "solids/solid_set.hpp"
#include "step/step.hpp"
#include "suggest_change.hpp"
#include "tables/judged_tables.hpp"
#include "tables/tables.hpp"
#include "tallies.hpp"
#include "trial.hpp"
#include "words_file.hpp"
#include "worksteps/worksteps.hpp"

#include <algorithm>
#include <chrono>
#include <filesystem>

namespace ribbay::detail {

namespace {

namespace fs = std::filesystem;

constexpr const char* kMaker = "build";  ///< of the output, as its manifest names it

/// Empty: A4.
Paper paper_named(const std::string& name) {
  return name == "A3" ? Paper::a3 : name == "Letter" ? Paper::letter : Paper::a4;
}

/// One run, from the command line to the exit code.
class Flow {
 public:
  Flow(const Command& command, const Surroundings& world)
      : command_(command),
        world_(world),
        progress_(world, command.quiet, kSteps),
        jobs_(command.jobs.value_or(std::max(world.cores, 1))) {}

  ExitCode run() {
    if (const Findings faults = read_last_build(); has_errors(faults)) return say_no_last(faults);
    if (const Findings faults = choose_words(); has_errors(faults)) return say_no_last(faults);
    if (!read() || !lay_out_project()) return say_wrong_input();
    if (command_.verb == Verb::build) {
      if (const Findings faults = find_place(); has_errors(faults)) return say_fault(faults);
    }
    check();
    if (command_.verb == Verb::check) return say_result();
    export_all();
    const Findings faults = publish_all();
    return has_errors(faults) ? say_fault(faults) : say_result();
  }

 private:
  static constexpr int kSteps = 10;

  bool wants(Product product) const {
    return command_.only.empty() ||
           std::ranges::find(command_.only, product) != command_.only.end();
  }

  // -- in -----------------------------------------------------------------------------------------

  bool read() {
    progress_.step("reading");
    inputs_ = take(read_inputs(command_.file, command_.settings), report_.findings);
    report_.settings = command_.settings;
    if (inputs_) report_.inputs = input_digests(*inputs_, command_.file);
    return inputs_ && !has_errors(report_.findings) && choose_candidates();
  }

  /// Equipment that fits takes its place; the findings of what was read do not change by that.
  bool choose_candidates() {
    trials_ = try_candidates(command_.file, *inputs_, command_.settings, jobs_, memo_);
    if (trials_.settings == command_.settings) return true;
    inputs_ = read_inputs(command_.file, trials_.settings, reader_of(*inputs_)).value;
    return inputs_.has_value();
  }

  bool lay_out_project() {
    progress_.step("laying out");
    layout_ = take(lay_out(*inputs_), report_.findings);
    if (!layout_ || has_errors(report_.findings)) return false;
    if (layout_->project.date.empty()) layout_->project.date = date_of(world_.source_date_epoch);
    report_.layout = &*layout_;
    return true;
  }

  void check() {
    progress_.step("checking");
    ClearanceResult result = check_clearance(*layout_, jobs_, false, &memo_);
    confirm_advice(command_.file, *inputs_, trials_.settings, result, jobs_, memo_);
    std::ranges::move(
        suggest_changes(command_.file, *inputs_, trials_.settings, *layout_, result, jobs_, memo_),
        std::back_inserter(result.findings));
    report_.checks = clearance_tallies(*layout_, result);
    std::ranges::move(all_findings(*layout_, result), std::back_inserter(report_.findings));
    assembly_ = plan_assembly(*layout_);
    report_.assembly = &assembly_;
    std::ranges::copy(assembly_.findings, std::back_inserter(report_.findings));
    judgement_ = judge(*layout_, jobs_, &memo_);
    std::ranges::move(judged_tallies(judgement_), std::back_inserter(report_.checks));
    std::ranges::copy(judgement_.findings, std::back_inserter(report_.findings));
    sort_findings(report_.findings);
  }

  // -- out ----------------------------------------------------------------------------------------

  void add(OutputFiles files) { std::ranges::move(files, std::back_inserter(files_)); }

  void export_all() {
    if (wants(Product::step) || wants(Product::mesh)) export_models();
    if (wants(Product::tables) || wants(Product::drawings)) plan_all_cuts();
    if (wants(Product::drawings)) {
      progress_.step("drawing");
      export_drawings();
    }
    if (wants(Product::bench)) export_bench();
    if (wants(Product::templates)) export_templates();
    if (wants(Product::pictures)) add(pictures(*layout_));
    if (wants(Product::tables)) export_tables();
    export_parts();
    if (wants(Product::tables) && !trials_.rows.empty()) {
      add({candidates_file(trials_.rows, layout_->project.show)});
    }
    sort_findings(report_.findings);
    const Report report = report_in_files();
    if (wants(Product::pictures)) add(findings_files(*layout_, report.findings));
    if (wants(Product::report)) add(report_files(report));
  }

  void export_tables() {
    add(shop_tables(*layout_));
    add(judged_tables(*layout_, judgement_));
    add(assembly_files(*layout_, assembly_));
    add(cut_files(*layout_, plans_));
    export_labels();
    const std::vector<Purchase> bought = purchases(*layout_, plans_);
    add({purchase_list(*layout_, bought), stock_list(*layout_)});
    add(quote_files(*layout_, plans_, bought));
  }

  void export_labels() {
    Result<OutputFiles> labels =
        label_files(*layout_, {.not_for_cutting = has_errors(report_.findings)});
    if (labels) {
      add(std::move(*labels));
    } else {
      std::ranges::move(labels.error(), std::back_inserter(report_.findings));
    }
  }

  /// Each run speaks the language that it was asked for.
  Findings choose_words() {
    Result<Language> words = command_.language.empty() ? Language{} : read_words(command_.language);
    if (!words) return words.error();
    speak(std::move(*words));
    return {};
  }

  /// Before anything is written: it may be the folder that this build replaces.
  Findings read_last_build() {
    if (command_.since.empty()) return {};
    Result<BuildRecord> last = read_build(command_.since);
    if (!last) return last.error();
    last_build_ = std::move(*last);
    return {};
  }

  void export_parts() {
    BuildRecord now{output_name(), record_parts(*layout_), drawings_};
    if (wants(Product::tables)) add({parts_file(now.parts)});
    if (!last_build_) return;
    notice_ = compare_builds(*last_build_, now);
    add(changes_files(*notice_));
  }

  void plan_all_cuts() {
    progress_.step("planning cuts");
    plans_ = plan_cuts(*layout_);
    for (const StockPlan& plan : plans_)
      std::ranges::copy(plan.findings, std::back_inserter(report_.findings));
  }

  /// Every page as SVG, and all of them again in one document to print.
  void export_drawings() {
    const DrawingOptions options{.not_for_cutting = has_errors(report_.findings),
                                 .gaps = called_gaps(judgement_)};
    std::vector<SetPage> set = drawing_set(*layout_, options);
    std::ranges::move(step_pages(*layout_, assembly_, options), std::back_inserter(set));
    std::ranges::move(cut_pages(*layout_, plans_, options), std::back_inserter(set));
    drawings_ = drawing_digests(set, layout_->project.date);
    add_pages(set, "drawings/set.pdf", " drawings", "all drawings in one document");
  }

  void add_pages(const std::vector<SetPage>& set, const std::string& path, const std::string& title,
                 const std::string& what) {
    std::vector<PdfPage> pages;
    for (const SetPage& page : set) {
      files_.push_back({page.path, svg(page.drawing), page.what});
      pages.push_back({page.path, &page.drawing});
    }
    add_document(pages, path, title, what);
  }

  void add_document(const std::vector<PdfPage>& pages, const std::string& path,
                    const std::string& title, const std::string& what) {
    if (pages.empty()) return;
    Result<std::string> pdf =
        pdf_document(pages, {layout_->project.name + title, layout_->project.date});
    if (pdf) {
      files_.push_back({path, std::move(*pdf), what});
    } else {
      std::ranges::move(pdf.error(), std::back_inserter(report_.findings));
    }
  }

  BenchOptions bench_options() const {
    const Paper paper = paper_named(command_.paper);
    return {.not_for_cutting = has_errors(report_.findings),
            .paper = paper,
            .template_paper =
                command_.template_paper.empty() ? paper : paper_named(command_.template_paper)};
  }

  void export_bench() {
    progress_.step("drawing for the bench");
    add_pages(bench_set(*layout_, assembly_, bench_options()), "bench/bench.pdf", " bench set",
              "all pages for the bench in one document");
  }

  /// Each template as a document of its sheets, and whole.
  void export_templates() {
    for (const Template& made : templates(*layout_, bench_options())) {
      std::vector<PdfPage> pages;
      for (const Drawing& page : made.pages) pages.push_back({page.title, &page});
      add_document(pages, "templates/" + made.name + ".pdf", " " + made.name, made.what);
      files_.push_back(
          {"templates/" + made.name + ".svg", svg(made.whole), made.what + ", on one sheet"});
    }
  }

  void export_models() {
    progress_.step("building solids");
    Built<SolidSet> built = make_solids(*layout_, jobs_);
    std::erase_if(built.findings, [&](const Finding& finding) { return is_told(finding); });
    const SolidSet solids = take(std::move(built), report_.findings);
    if (wants(Product::step)) {
      progress_.step("writing STEP");
      add(take(step_files(*layout_, solids, layout_->project.date), report_.findings));
    }
    if (wants(Product::mesh)) {
      progress_.step("writing meshes");
      add({take(glb(*layout_, solids, "model/assembly.glb"), report_.findings)});
      add(take(stl_parts(*layout_, solids), report_.findings));
    }
  }

  /// What falls apart has been found by the checks.
  bool is_told(const Finding& finding) const {
    return finding.code == "solid.not_one_body" &&
           std::ranges::any_of(report_.findings, [&](const Finding& other) {
             return other.code == "clearance.not_whole" && other.subjects == finding.subjects;
           });
  }

  /// As the report, with places told from the project's folder: the same bytes wherever it is
  /// built.
  Report report_in_files() const {
    Report report = report_;
    for (Finding& finding : report.findings) {
      if (finding.place)
        finding.place->file = path_from_project(finding.place->file, command_.file);
    }
    return report;
  }

  std::string output_name() const {
    return command_.out.empty() ? "outputs/" + layout_->project.name : command_.out;
  }

  /// Nobody waits for a build that has nowhere to go.
  Findings find_place() {
    const Result<OutputFolder> folder = find_output(output_name(), kMaker, world_.files);
    if (!folder) return folder.error();
    Findings faults = inputs_in(*folder);
    return faults.empty() ? try_output(*folder, world_.files) : faults;
  }

  /// What the project reads must not be what the build writes: each build would be made from the
  /// one before.
  Findings inputs_in(const OutputFolder& folder) const {
    Findings faults;
    if (!folder.manifest) return faults;
    for (const Document* document : {&inputs_->project, &inputs_->vehicle}) {
      for (const InputFile& input : document->inputs) {
        std::error_code error;
        const fs::path file = fs::weakly_canonical(input.path, error);
        const std::string inside = file.lexically_relative(folder.path).generic_string();
        if (error || std::ranges::find(folder.manifest->files, inside, &ManifestEntry::path) ==
                         folder.manifest->files.end())
          continue;
        Finding finding;
        finding.code = "output.holds_inputs";
        finding.subjects = {input.path};
        faults.push_back(std::move(finding).with("folder", output_name()));
      }
    }
    return faults;
  }

  Findings publish_all() {
    progress_.step("publishing");
    const Result<OutputFolder> folder = find_output(output_name(), kMaker, world_.files);
    if (!folder) return folder.error();
    Manifest manifest{
        .made_from = made_from(report_, layout_->project.date), .command = kMaker, .files = {}};
    for (const OutputFile& file : files_) manifest.files.push_back(manifest_entry(file));
    note_drawings(manifest);
    if (!command_.only.empty() && folder->manifest) {
      if (Findings faults = carry_over(*folder, manifest); has_errors(faults)) return faults;
    }
    files_.push_back(manifest_file(std::move(manifest)));
    Findings faults = publish(files_, *folder, world_.files);
    for (const Finding& finding : faults) {
      if (finding.severity == Severity::warning) world_.err << text(finding) << "\n";
    }
    return faults;
  }

  /// What the drawings show, whatever day they were made on.
  void note_drawings(Manifest& manifest) const {
    if (!drawings_) return;
    for (const DrawingDigest& drawing : *drawings_) {
      const auto entry = std::ranges::find(manifest.files, drawing.path, &ManifestEntry::path);
      if (entry != manifest.files.end()) entry->undated = drawing.sha256;
    }
  }

  /// Takes the files of the last build that this one did not make; stale unless the inputs are the
  /// same.
  Findings carry_over(const OutputFolder& folder, Manifest& manifest) {
    const bool same_inputs = folder.manifest->made_from == manifest.made_from;
    for (ManifestEntry entry : folder.manifest->files) {
      if (std::ranges::find(files_, entry.path, &OutputFile::path) != files_.end()) continue;
      Result<std::string> bytes = read_output(folder, entry.path);
      if (!bytes) return bytes.error();
      entry.stale = entry.stale || !same_inputs;
      if (entry.stale) ++stale_;
      files_.push_back({entry.path, std::move(*bytes), entry.what});
      manifest.files.push_back(std::move(entry));
    }
    return {};
  }

  // -- words --------------------------------------------------------------------------------------

  std::string text(const Finding& finding) const {
    return finding_text(finding, layout_ ? layout_->project.show : LengthStyle::millimetres);
  }

  void say(const std::string& page) { world_.out << (world_.out_colour ? coloured(page) : page); }

  void say_report() {
    progress_.clear();
    if (command_.json) {
      world_.out << report_json(report_);
    } else if (command_.quiet) {
      for (const Finding& finding : report_.findings) say(text(finding) + "\n");
    } else {
      say(summary_text(report_));
    }
  }

  ExitCode say_wrong_input() {
    sort_findings(report_.findings);
    say_report();
    if (candidates_differ(trials_.rows)) say_candidates();
    return ExitCode::wrong_input;
  }

  void say_candidates() {
    if (command_.json || command_.quiet) return;
    world_.out << candidates_page(
        trials_.rows, layout_ ? layout_->project.show : LengthStyle::millimetres);
  }

  ExitCode say_no_last(const Findings& faults) {
    for (const Finding& finding : faults) world_.err << text(finding) << "\n";
    return ExitCode::wrong_input;
  }

  ExitCode say_fault(const Findings& faults) {
    say_report();
    for (const Finding& finding : faults) world_.err << "ribbay: " << text(finding) << "\n";
    return is_wrong_folder(faults) ? ExitCode::wrong_input : ExitCode::machine_failed;
  }

  ExitCode say_result() {
    say_report();
    say_candidates();
    if (command_.verb == Verb::check && !command_.json && !command_.quiet &&
        has_errors(report_.findings)) {
      world_.out << "pictures  ribbay build " << command_.file
                 << " --only pictures writes findings/findings.html, with a picture of each\n";
    }
    if (command_.verb == Verb::build && !command_.json && !command_.quiet) {
      world_.out << "files     " << output_name() << " (" << files_.size() << " files)\n";
      if (notice_) {
        world_.out << "changes   " << notice_->parts.size() << " parts since " << command_.since
                   << ", see shop/changes.html\n";
      }
      if (stale_ > 0) {
        world_.out << "stale     " << stale_
                   << " of them are left from other inputs; build without --only before cutting\n";
      }
    }
    if (!command_.quiet) {
      const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start_;
      world_.err << "took " << rounded_text(taken.count(), 2) << " s\n";
    }
    return exit_code(report_.findings, command_.strict);
  }

  const Command& command_;
  const Surroundings& world_;
  Progress progress_;
  int jobs_;
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
  std::optional<Inputs> inputs_;
  Trials trials_;
  Memo memo_;
  std::optional<Layout> layout_;
  AssemblyPlan assembly_;
  Judgement judgement_;
  std::vector<StockPlan> plans_;
  Report report_;
  OutputFiles files_;
  std::optional<std::vector<DrawingDigest>> drawings_;  ///< sorted by path
  std::optional<BuildRecord> last_build_;  ///< of --since
  std::optional<ChangeNotice> notice_;
  int stale_ = 0;  ///< files carried over that other inputs made
};

}  // namespace

ExitCode run_flow(const Command& command, const Surroundings& world) {
  return Flow(command, world).run();
}

}  // namespace ribbay::detail
