#include "app/publish.hpp"

#include "disk.hpp"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <fstream>
#include <iterator>
#include <set>
#include <system_error>

namespace ribbay {

namespace fs = std::filesystem;
using detail::Disk;
using detail::FolderLock;

namespace {

/// Folders beside the output: a set being written is NEW plus the number of its process; while two
/// renames stand in for an exchange, the old set is ASIDE.
std::string new_prefix(const fs::path& output) {
  return "." + output.filename().string() + ".ribbay-new-";
}

fs::path aside(const fs::path& output) {
  return output.parent_path() / ("." + output.filename().string() + ".ribbay-old");
}

Finding about(std::string code, const fs::path& path, std::string why) {
  Finding finding;
  finding.code = std::move(code);
  finding.subjects = {path.string()};
  return std::move(finding).with("why", std::move(why));
}

std::string system_text(int error) {
  return std::generic_category().message(error);
}

/// Absolute, with links resolved, so that the folder itself is replaced and not a link to it.
fs::path resolved(const std::string& folder, std::error_code& error) {
  fs::path path = fs::absolute(folder, error);
  if (!error) path = fs::weakly_canonical(path, error);
  return path.has_filename() ? path : path.parent_path();
}

void sweep(const fs::path& output, FileCalls& calls) {
  Disk disk(calls);
  std::error_code error;
  if (fs::is_directory(aside(output), error)) {
    // A run was killed between its two renames: the old set goes back to its place.
    if (!fs::exists(output, error)) {
      disk.rename(aside(output), output);
    } else {
      disk.remove_tree(aside(output));
    }
  }
  std::vector<fs::path> leftovers;
  fs::directory_iterator entry(output.parent_path(), error);
  for (const fs::directory_iterator end; !error && entry != end; entry.increment(error)) {
    if (entry->path().filename().string().starts_with(new_prefix(output))) {
      leftovers.push_back(entry->path());
    }
  }
  for (const fs::path& leftover : leftovers) {
    // Another run that is still writing holds the lock.
    if (const FolderLock lock(calls, leftover); lock.held()) disk.remove_tree(leftover);
  }
}

bool read_bytes(const fs::path& path, std::string& bytes) {
  std::ifstream in(path, std::ios::binary);
  bytes.assign(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
  return in.good() || in.eof();
}

/// The folder for a new set, under a lock, or an empty path.
struct NewFolder {
  fs::path path;
  std::optional<FolderLock> lock;
};

void make_new_folder(const fs::path& output, FileCalls& calls, Disk& disk, NewFolder& made) {
  const std::string start = new_prefix(output) + std::to_string(::getpid());
  fs::path path = output.parent_path() / start;
  // A number may be taken: by a leftover that cannot be removed, or from another process name
  // space.
  for (int next = 1; calls.make_folder(path.c_str()) != 0; ++next) {
    if (errno != EEXIST || next == 100) {
      disk.fail(path, errno);
      return;
    }
    path = output.parent_path() / (start + "-" + std::to_string(next));
  }
  made.path = path;
  made.lock.emplace(calls, path);
  if (!made.lock->held()) disk.fail(path, errno);
}

bool write_files(const OutputFiles& files, const fs::path& folder, Disk& disk) {
  return std::ranges::all_of(files, [&](const OutputFile& file) {
    const fs::path path = folder / file.path;
    return disk.make_folders(path.parent_path()) && disk.write_file(path, file.bytes);
  });
}

/// Files in the old folder that neither its manifest nor the new set names: the builder's own.
std::vector<fs::path> own_files(const OutputFolder& folder, const OutputFiles& files, Disk& disk) {
  std::set<fs::path> ours = {fs::path(kManifestPath)};
  for (const OutputFile& file : files) ours.insert(file.path);
  if (folder.manifest) {
    for (const ManifestEntry& file : folder.manifest->files) ours.insert(file.path);
  }
  std::vector<fs::path> own;
  std::error_code error;
  fs::recursive_directory_iterator entry(folder.path, error);
  for (const fs::recursive_directory_iterator end; !error && entry != end; entry.increment(error)) {
    const fs::path relative = entry->path().lexically_relative(folder.path);
    const bool is_folder = fs::is_directory(entry->symlink_status(error));
    if (!is_folder && !ours.contains(relative)) own.push_back(relative);
  }
  if (error) disk.fail(folder.path, error.value());
  return own;
}

/// A second link to each of the builder's own files: both sets are whole before and after the
/// exchange.
bool keep_own_files(const OutputFolder& folder, const OutputFiles& files, const fs::path& fresh,
                    Disk& disk) {
  if (!folder.exists) return true;
  const std::vector<fs::path> own = own_files(folder, files, disk);
  return !disk.fault() && std::ranges::all_of(own, [&](const fs::path& file) {
    return disk.make_folders((fresh / file).parent_path()) &&
           disk.link(folder.path / file, fresh / file);
  });
}

bool lacks_exchange(int error) {
  return error == EINVAL || error == ENOSYS || error == EOPNOTSUPP;
}

/// Puts the set at `fresh` in the place of the output. Returns where the old set is now, an empty
/// path when there was none, or nothing when it failed and all is as before.
std::optional<fs::path> swap_in(const OutputFolder& folder, const fs::path& fresh, FileCalls& calls,
                                Disk& disk) {
  if (!folder.exists) {
    if (!disk.rename(fresh, folder.path)) return std::nullopt;
    return fs::path();
  }
  if (calls.exchange(fresh.c_str(), folder.path.c_str()) == 0) return fresh;
  if (!lacks_exchange(errno)) {
    disk.fail(folder.path, errno);
    return std::nullopt;
  }
  if (!disk.rename(folder.path, aside(folder.path))) return std::nullopt;
  if (disk.rename(fresh, folder.path)) return aside(folder.path);
  disk.rename(aside(folder.path), folder.path);
  return std::nullopt;
}

/// Undoes swap_in() when the new names could not be forced to disk.
bool swap_back(const OutputFolder& folder, const fs::path& old_set, const fs::path& fresh,
               Disk& disk) {
  if (old_set == fresh) return disk.exchange(fresh, folder.path);
  return disk.rename(folder.path, fresh) && (old_set.empty() || disk.rename(old_set, folder.path));
}

}  // namespace

bool is_wrong_folder(const Findings& faults) {
  return std::ranges::any_of(faults, [](const Finding& fault) {
    return fault.code == "output.not_ours" || fault.code == "output.of_another" ||
           fault.code == "output.holds_inputs";
  });
}

Result<OutputFolder> find_output(const std::string& name, const std::string& command,
                                 FileCalls& calls) {
  std::error_code error;
  OutputFolder folder{resolved(name, error), false, std::nullopt};
  const auto not_ours = [&](std::string why) {
    return fail(about("output.not_ours", name, std::move(why)));
  };
  if (!error) sweep(folder.path, calls);

  const fs::file_status status = error ? fs::file_status() : fs::status(folder.path, error);
  if (status.type() == fs::file_type::not_found) return folder;
  if (error) return fail(about("output.not_written", name, system_text(error.value())));
  if (!fs::is_directory(status)) return not_ours("it is not a folder");

  folder.exists = true;
  const bool empty = fs::is_empty(folder.path, error);
  if (error) return fail(about("output.not_written", name, system_text(error.value())));
  if (empty) return folder;

  std::string bytes;
  if (!fs::is_regular_file(folder.path / kManifestPath, error)) {
    return not_ours("it has no " + std::string(kManifestPath));
  }
  if (!read_bytes(folder.path / kManifestPath, bytes))
    return not_ours("its manifest cannot be read");
  Result<Manifest> manifest = read_manifest(bytes);
  if (!manifest) {
    return not_ours("its manifest: " +
                    std::get<std::string>(manifest.error()[0].argument("why")->value));
  }
  if (manifest->command != command) {
    Finding finding;
    finding.code = "output.of_another";
    finding.subjects = {name};
    return fail(std::move(finding).with("command", manifest->command));
  }
  folder.manifest = std::move(*manifest);
  return folder;
}

Findings try_output(const OutputFolder& folder, FileCalls& calls) {
  // A folder above that is missing is made by publish().
  fs::path above = folder.path.parent_path();
  std::error_code ignored;
  while (!fs::exists(above, ignored) && above.has_relative_path()) above = above.parent_path();
  const fs::path trial = above / (new_prefix(folder.path) + std::to_string(::getpid()));
  if (calls.make_folder(trial.c_str()) == 0 && calls.remove_folder(trial.c_str()) == 0) return {};
  return {about("output.not_written", folder.path, system_text(errno))};
}

Result<std::string> read_output(const OutputFolder& folder, const std::string& path) {
  std::string bytes;
  std::error_code error;
  const bool regular = fs::is_regular_file(folder.path / path, error);
  if (!regular || !read_bytes(folder.path / path, bytes)) {
    return fail(about("output.not_read", folder.path / path, "it cannot be read"));
  }
  return bytes;
}

Findings publish(const OutputFiles& files, const OutputFolder& folder, FileCalls& calls) {
  Disk disk(calls);
  NewFolder fresh;
  const fs::path parent = folder.path.parent_path();
  if (disk.make_folders(parent)) make_new_folder(folder.path, calls, disk, fresh);

  bool ready = !disk.fault() && write_files(files, fresh.path, disk);
  const bool kept = ready && keep_own_files(folder, files, fresh.path, disk);
  const std::string_view code = ready && !kept ? "output.not_kept" : "output.not_written";
  ready = kept && disk.sync_tree(fresh.path);
  const auto failed = [&](std::string_view which) {
    const detail::Fault fault = disk.fault().value_or(detail::Fault{folder.path, EIO});
    return Findings{about(std::string(which), fault.path, system_text(fault.error))};
  };

  std::optional<fs::path> old_set;
  if (ready) old_set = swap_in(folder, fresh.path, calls, disk);
  if (old_set && !disk.sync_folder(parent)) {
    // The old set stays beside the new one: after a loss of power either may be the one that is
    // found.
    if (!swap_back(folder, *old_set, fresh.path, disk)) return failed("output.not_durable");
    old_set.reset();
  }
  if (!old_set) {
    Findings findings = failed(code);
    if (!fresh.path.empty()) disk.remove_tree(fresh.path);
    return findings;
  }
  if (!old_set->empty() && !disk.remove_tree(*old_set)) {
    Findings findings = failed("output.leftover");
    findings[0].severity = Severity::warning;
    return findings;
  }
  return {};
}

}  // namespace ribbay
