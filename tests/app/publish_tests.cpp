#include "app/publish.hpp"
#include "faulty_calls.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <map>
#include <sstream>

using namespace ribbay;
namespace fs = std::filesystem;

namespace {

using Tree = std::map<std::string, std::string>;

/// Every file below a folder with its bytes; hidden folders beside an output count too.
Tree tree(const fs::path& folder) {
  Tree files;
  if (!fs::exists(folder)) return files;
  for (const auto& entry : fs::recursive_directory_iterator(folder)) {
    if (entry.is_directory()) continue;
    std::ifstream in(entry.path(), std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    files[entry.path().lexically_relative(folder).string()] = bytes.str();
  }
  return files;
}

void write(const fs::path& path, const std::string& bytes) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << bytes;
}

/// A set of a few files in folders, with its manifest last.
OutputFiles build(const std::string& flavour) {
  OutputFiles files = {{"report.json", flavour + " report", ""},
                       {"drawings/010.svg", flavour + std::string(100'000, 's'), ""},
                       {"model/stl/M1.stl", flavour, ""}};
  Manifest manifest;
  for (const OutputFile& file : files) manifest.files.push_back(manifest_entry(file));
  files.push_back(manifest_file(manifest));
  return files;
}

Tree as_tree(const OutputFiles& files) {
  Tree wanted;
  for (const OutputFile& file : files) wanted[file.path] = file.bytes;
  return wanted;
}

/// find_output() and publish() as one build does them.
Findings put(const fs::path& folder, const OutputFiles& files, FileCalls& calls) {
  const auto found = find_output(folder.string(), "build", calls);
  return found ? publish(files, *found, calls) : found.error();
}

std::vector<std::string> names_in(const fs::path& folder) {
  std::vector<std::string> names;
  for (const auto& entry : fs::directory_iterator(folder)) {
    names.push_back(entry.path().filename().string());
  }
  std::ranges::sort(names);
  return names;
}

/// A file system without the exchange, as many network and FUSE ones are.
class NoExchange : public FaultyCalls {
 public:
  using FaultyCalls::FaultyCalls;
  int exchange(const char*, const char*) override {
    if (!faulty()) errno = EINVAL;
    return -1;
  }
};

}  // namespace

TEST_CASE("the first build makes the folder and everything above it", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  const fs::path out = home.path() / "deep/down/van";
  CHECK(put(out, build("first"), calls).empty());
  CHECK(tree(out) == as_tree(build("first")));
  CHECK(names_in(out.parent_path()) == std::vector<std::string>{"van"});
}

TEST_CASE("a later build replaces the whole set", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  const fs::path out = home.path() / "van";
  OutputFiles more = build("first");
  more.insert(more.begin(), {"drawings/020.svg", "gone next time", ""});
  Manifest manifest;
  for (std::size_t i = 0; i + 1 < more.size(); ++i)
    manifest.files.push_back(manifest_entry(more[i]));
  more.back() = manifest_file(manifest);
  REQUIRE(put(out, more, calls).empty());

  CHECK(put(out, build("second"), calls).empty());

  CHECK(tree(out) == as_tree(build("second")));
  CHECK(names_in(home.path()) == std::vector<std::string>{"van"});
}

TEST_CASE("an empty folder may be used", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  fs::create_directory(home.path() / "van");
  CHECK(put(home.path() / "van/", build("first"), calls).empty());
  CHECK(tree(home.path() / "van") == as_tree(build("first")));
}

TEST_CASE("what this program did not write is not replaced", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  const fs::path out = home.path() / "van";
  SECTION("a folder without a manifest") {
    write(out / "thesis.txt", "years of work");
  }
  SECTION("a folder with somebody else's manifest") {
    write(out / "manifest.json", R"({"name": "an app"})");
  }
  SECTION("a manifest that reaches outside") {
    write(out / "manifest.json",
          R"({"schema":1,"made_from":"","files":[{"path":"../x","sha256":"","what":""}]})");
  }
  SECTION("a manifest of a newer version") {
    write(out / "manifest.json", R"({"schema":999,"made_from":"","files":[]})");
  }
  SECTION("a file") {
    write(out, "years of work");
  }
  const Tree before = tree(home.path());

  const Findings findings = put(out, build("second"), calls);

  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "output.not_ours");
  CHECK(tree(home.path()) == before);
}

TEST_CASE("the builder's own files in the output folder move along", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  const fs::path out = home.path() / "van";
  REQUIRE(put(out, build("first"), calls).empty());
  write(out / "notes.txt", "measure the arch again");
  write(out / "photos/rib.jpg", "pixels");
  fs::create_symlink("nowhere", out / "link");

  CHECK(put(out, build("second"), calls).empty());

  CHECK(fs::read_symlink(out / "link") == "nowhere");
  fs::remove(out / "link");
  Tree wanted = as_tree(build("second"));
  wanted["notes.txt"] = "measure the arch again";
  wanted["photos/rib.jpg"] = "pixels";
  CHECK(tree(out) == wanted);
}

TEST_CASE("a link to the output folder stays a link", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  const fs::path out = home.path() / "disk/van";
  REQUIRE(put(out, build("first"), calls).empty());
  fs::create_symlink(out, home.path() / "shortcut");
  CHECK(put(home.path() / "shortcut", build("second"), calls).empty());
  CHECK(fs::is_symlink(home.path() / "shortcut"));
  CHECK(tree(out) == as_tree(build("second")));
}

TEST_CASE("a folder below a file cannot be written", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  write(home.path() / "file", "not a folder");
  const Findings findings = put(home.path() / "file/van", build("first"), calls);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "output.not_written");
  CHECK(std::get<std::string>(findings[0].argument("why")->value) == "Not a directory");
  CHECK(names_in(home.path()) == std::vector<std::string>{"file"});
}

TEST_CASE("a set that another run is still writing is left alone", "[app][publish]") {
  const TemporaryFolder home;
  FileCalls calls;
  const fs::path busy = home.path() / ".van.ribbay-new-1";
  const fs::path dead = home.path() / ".van.ribbay-new-2";
  const fs::path other = home.path() / ".van_2.ribbay-new-3";
  for (const fs::path& folder : {busy, dead, other}) write(folder / "half.svg", "<svg");
  const int held = calls.open_folder(busy.c_str());
  REQUIRE(calls.lock(held) == 0);

  CHECK(put(home.path() / "van", build("first"), calls).empty());

  CHECK(fs::exists(busy / "half.svg"));
  CHECK_FALSE(fs::exists(dead));
  CHECK(fs::exists(other / "half.svg"));
  calls.close(held);
}

namespace {

/// One build over an old one, with the n-th call going wrong, for n = 1 until nothing goes wrong
/// any more.
template <class Calls>
void fail_every_call(FaultyCalls::Mode mode, int error, bool first_build) {
  const Tree none;
  const Tree old_set = first_build ? none : as_tree(build("old"));
  const Tree new_set = as_tree(build("new"));
  int faults = 0;
  for (int nth = 1;; ++nth) {
    CAPTURE(nth, error, first_build);
    const TemporaryFolder home(TemporaryFolder::On::memory);
    const fs::path out = home.path() / "van";
    FileCalls sound;
    if (!first_build) REQUIRE(put(out, build("old"), sound).empty());

    Calls faulty(mode, nth, error);
    const Findings findings = put(out, build("new"), faulty);
    if (faulty.count() < nth) break;  // the fault was never reached
    ++faults;

    REQUIRE(findings.size() <= 1);
    const std::string code = findings.empty() ? "" : findings[0].code;
    if (code == "output.not_written") {
      CHECK(tree(out) == old_set);
      if (mode == FaultyCalls::Mode::once)
        CHECK(names_in(home.path()).size() == (first_build ? 0 : 1));
    } else {
      CHECK((code.empty() || code == "output.leftover" || code == "output.not_durable"));
      CHECK((code != "output.not_durable" || mode == FaultyCalls::Mode::from_then_on));
      CHECK(tree(out) == new_set);
    }
    // Whatever was left behind is gone after the next build.
    REQUIRE(put(out, build("newer"), sound).empty());
    CHECK(tree(home.path()).size() == as_tree(build("newer")).size());
    CHECK(tree(out) == as_tree(build("newer")));
  }
  CHECK(faults > 25);  // 3 files and a manifest in 4 folders take about 40 calls
}

}  // namespace

TEST_CASE("whichever call fails, the last output is whole", "[app][publish][fault]") {
  const auto mode = GENERATE(FaultyCalls::Mode::once, FaultyCalls::Mode::from_then_on);
  const auto error = GENERATE(ENOSPC, EIO, EACCES);
  const bool first_build = GENERATE(true, false);
  fail_every_call<FaultyCalls>(mode, error, first_build);
}

TEST_CASE("the same without the exchange, for a single fault", "[app][publish][fault]") {
  fail_every_call<NoExchange>(FaultyCalls::Mode::once, EIO, false);
}

// The order that fsync(2) and rename(2) ask for: a file's bytes, then the folder that names it,
// then the exchange, then the folder that the exchange changed, and only then may the old set go.
TEST_CASE("everything is forced to disk before the exchange, and the exchange before the clean-up",
          "[app][publish]") {
  struct Recorder : FileCalls {
    std::map<int, std::string> open;
    std::vector<std::string> log;
    int open_new(const char* path) override {
      const int file = FileCalls::open_new(path);
      open[file] = path;
      log.push_back("write " + open[file]);
      return file;
    }
    int open_folder(const char* path) override {
      const int folder = FileCalls::open_folder(path);
      open[folder] = path;
      return folder;
    }
    int make_folder(const char* path) override {
      log.push_back("write " + std::string(path));
      return FileCalls::make_folder(path);
    }
    int sync_file(int file) override {
      log.push_back("sync " + open[file]);
      return FileCalls::sync_file(file);
    }
    int exchange(const char* a, const char* b) override {
      log.push_back("exchange");
      return FileCalls::exchange(a, b);
    }
    int remove_file(const char* path) override {
      log.push_back("remove");
      return FileCalls::remove_file(path);
    }
  } calls;
  const TemporaryFolder home;
  FileCalls plain;
  REQUIRE(put(home.path() / "van", build("old"), plain).empty());
  REQUIRE(put(home.path() / "van", build("new"), calls).empty());

  const auto exchange = std::ranges::find(calls.log, "exchange");
  const auto parent = std::find(exchange, calls.log.end(), "sync " + home.path().string());
  REQUIRE(parent != calls.log.end());
  CHECK(std::ranges::find(calls.log, "remove") > parent);
  int written = 0;
  for (auto entry = calls.log.begin(); entry != exchange; ++entry) {
    if (!entry->starts_with("write ")) continue;
    ++written;
    CAPTURE(*entry);
    CHECK(std::find(entry, exchange, "sync " + entry->substr(6)) != exchange);
  }
  CHECK(written == 4 + 4);  // files and folders
}

TEST_CASE("a write that a signal interrupts is taken up again", "[app][publish][fault]") {
  struct Interrupted : FileCalls {
    int calls = 0;
    ssize_t write(int file, const char* bytes, std::size_t count) override {
      errno = EINTR;
      return ++calls % 2 == 1 ? -1
                              : FileCalls::write(file, bytes, std::min<std::size_t>(count, 777));
    }
  } calls;
  const TemporaryFolder home(TemporaryFolder::On::memory);
  CHECK(put(home.path() / "van", build("first"), calls).empty());
  CHECK(tree(home.path() / "van") == as_tree(build("first")));
}

TEST_CASE("killed at any call, a build leaves the old set or the new one",
          "[app][publish][fault]") {
  const bool with_exchange = GENERATE(true, false);
  const Tree old_set = as_tree(build("old"));
  const Tree new_set = as_tree(build("new"));
  int kills = 0;
  for (int nth = 1;; ++nth) {
    CAPTURE(nth, with_exchange);
    const TemporaryFolder home(TemporaryFolder::On::memory);
    const fs::path out = home.path() / "van";
    FileCalls sound;
    REQUIRE(put(out, build("old"), sound).empty());

    const pid_t child = ::fork();
    REQUIRE(child >= 0);
    if (child == 0) {
      if (with_exchange) {
        FaultyCalls calls(FaultyCalls::Mode::kill, nth, 0);
        put(out, build("new"), calls);
      } else {
        NoExchange calls(FaultyCalls::Mode::kill, nth, 0);
        put(out, build("new"), calls);
      }
      ::_exit(0);
    }
    int status = 0;
    REQUIRE(::waitpid(child, &status, 0) == child);
    if (WEXITSTATUS(status) == 0) break;
    ++kills;

    // Without the exchange there is a moment between two renames; the next start completes it.
    if (!with_exchange) REQUIRE(find_output(out.string(), "build", sound));
    const Tree now = tree(out);
    CHECK((now == old_set || now == new_set));
    REQUIRE(put(out, build("newer"), sound).empty());
    CHECK(names_in(home.path()) == std::vector<std::string>{"van"});
  }
  CHECK(kills > 25);
}
