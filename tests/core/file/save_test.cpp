#include <gtest/gtest.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

#include "core/edit/change.h"
#include "core/file/yard_file.h"

namespace yw::file {
namespace {

using namespace yard;
namespace fs = std::filesystem;

std::string read(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}
void write(const fs::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

/// A yard whose file has about that many bytes.
Yard large(std::size_t bytes) {
  edit::Editor edit(emptyYard());
  edit.update<Site>(siteId(edit.yard()), [bytes](Site& s) { s.notes = std::string(bytes, 'n'); });
  return edit.yard();
}

struct Saving : ::testing::Test {
  fs::path folder;
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "saving XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder = pattern;
  }
  void TearDown() override { fs::remove_all(folder); }
  std::ptrdiff_t filesIn(const fs::path& path) const {
    return std::distance(fs::directory_iterator(path), {});
  }
  void expectRefusal(const base::Result<void>& saved, const fs::path& path, const std::string& reason) {
    ASSERT_FALSE(saved);
    EXPECT_EQ(saved.error().code, base::ErrorCode::CannotWrite);
    const std::string text = base::text(saved.error());
    EXPECT_NE(text.find(path.string()), std::string::npos) << text;
    EXPECT_NE(text.find(reason), std::string::npos) << text;
  }
};

TEST_F(Saving, OpensAgainFromAnyName) {
  for (const char* name :
       {"plain.yard", "with spaces and 'quotes'.yard", "Süd-庭-🎄.yard", ".hidden", "no ending"}) {
    const fs::path path = folder / name;
    ASSERT_TRUE(save(emptyYard(), path)) << name;
    EXPECT_EQ(read(path), bytesOf(emptyYard()));
    const auto opened = open(path);
    ASSERT_TRUE(opened) << name;
    EXPECT_TRUE(opened->yard == emptyYard());
  }
  EXPECT_EQ(filesIn(folder), 5);  // nothing left aside
}

TEST_F(Saving, ReplacesTheOldFileAndKeepsItsPermissions) {
  const fs::path path = folder / "a.yard";
  write(path, "old");
  for (const mode_t mode : {0600u, 0640u, 0664u, 0644u}) {
    ASSERT_EQ(::chmod(path.c_str(), mode), 0);
    ASSERT_TRUE(save(emptyYard(), path));
    struct stat info {};
    ASSERT_EQ(::stat(path.c_str(), &info), 0);
    EXPECT_EQ(info.st_mode & 07777, mode);
  }
  EXPECT_EQ(read(path), bytesOf(emptyYard()));
}

TEST_F(Saving, ANewFileFollowsTheUmask) {
  const mode_t old = ::umask(027);
  ASSERT_TRUE(save(emptyYard(), folder / "a.yard"));
  ::umask(old);
  struct stat info {};
  ASSERT_EQ(::stat((folder / "a.yard").c_str(), &info), 0);
  EXPECT_EQ(info.st_mode & 07777, 0640u);
}

TEST_F(Saving, FollowsALinkAndKeepsIt) {
  fs::create_directory(folder / "far");
  write(folder / "far/real.yard", "old");
  fs::create_symlink("far/real.yard", folder / "link.yard");
  fs::create_symlink(folder / "link.yard", folder / "second.yard");
  fs::create_symlink("far/not there.yard", folder / "dangling.yard");
  ASSERT_TRUE(save(emptyYard(), folder / "second.yard"));
  ASSERT_TRUE(save(emptyYard(), folder / "dangling.yard"));
  EXPECT_TRUE(fs::is_symlink(folder / "link.yard"));
  EXPECT_TRUE(fs::is_symlink(folder / "second.yard"));
  EXPECT_EQ(read(folder / "far/real.yard"), bytesOf(emptyYard()));
  EXPECT_EQ(read(folder / "far/not there.yard"), bytesOf(emptyYard()));
  fs::create_symlink("circle.yard", folder / "circle.yard");
  expectRefusal(save(emptyYard(), folder / "circle.yard"), folder / "circle.yard", "leads back to itself");
}

TEST_F(Saving, WritesIntoTheCurrentFolder) {
  const fs::path before = fs::current_path();
  fs::current_path(folder);
  EXPECT_TRUE(save(emptyYard(), "here.yard"));
  fs::current_path(before);
  EXPECT_EQ(read(folder / "here.yard"), bytesOf(emptyYard()));
}

TEST_F(Saving, RefusesWhatItCouldNotOpenAgainAndKeepsTheOldFile) {
  const fs::path path = folder / "a.yard";
  ASSERT_TRUE(save(emptyYard(), path));
  edit::Editor edit(emptyYard());
  edit.add(Prop{.name = "Arch", .product = Id{999}});
  expectRefusal(save(edit.yard(), path), path, "names record 999");
  EXPECT_EQ(read(path), bytesOf(emptyYard()));
  EXPECT_EQ(filesIn(folder), 1);
}

TEST_F(Saving, AMissingFolderIsNamed) {
  const fs::path path = folder / "not there" / "a.yard";
  expectRefusal(save(emptyYard(), path), path, "the folder is not there");
  expectRefusal(save(emptyYard(), folder), folder, "a folder has that name");
  const fs::path longName = folder / std::string(300, 'n');
  expectRefusal(save(emptyYard(), longName), longName, "the name is too long");
  write(folder / "file", "");
  expectRefusal(save(emptyYard(), folder / "file" / "a.yard"), folder, "part of its path is a file");
}

/// No file may grow beyond that while this lives.
class FileLimit {
 public:
  explicit FileLimit(rlim_t bytes) {
    ::signal(SIGXFSZ, SIG_IGN);
    ::getrlimit(RLIMIT_FSIZE, &old_);
    const rlimit tight{bytes, old_.rlim_max};
    EXPECT_EQ(::setrlimit(RLIMIT_FSIZE, &tight), 0);
  }
  ~FileLimit() { ::setrlimit(RLIMIT_FSIZE, &old_); }

 private:
  rlimit old_{};
};

TEST_F(Saving, AFileOverTheLimitKeepsTheOldOne) {
  const fs::path path = folder / "a.yard";
  ASSERT_TRUE(save(emptyYard(), path));
  const auto saved = [&] {
    const FileLimit limit(100'000);
    return save(large(500'000), path);
  }();
  expectRefusal(saved, path, "files may not be that large here");
  EXPECT_EQ(read(path), bytesOf(emptyYard()));
  EXPECT_EQ(filesIn(folder), 1);
}

/// A disk of its own at `folder` while this lives, where mounting is allowed (for root).
class SmallDisk {
 public:
  explicit SmallDisk(const fs::path& folder)
      : folder_(folder), mounted_(::mount("none", folder.c_str(), "tmpfs", 0, "size=128k") == 0) {}
  ~SmallDisk() {
    if (mounted_) ::umount(folder_.c_str());
  }
  bool mounted() const { return mounted_; }
  void makeReadOnly() const {
    EXPECT_EQ(::mount("none", folder_.c_str(), "tmpfs", MS_REMOUNT | MS_RDONLY, "size=128k"), 0);
  }

 private:
  fs::path folder_;
  bool mounted_;
};

TEST_F(Saving, AFullOrReadOnlyDiskKeepsTheOldFile) {
  const SmallDisk disk(folder);
  const fs::path path = folder / "a.yard";
  EXPECT_TRUE(save(emptyYard(), path));
  // Without a small disk the same write fails by the limit for files.
  const FileLimit limit(disk.mounted() ? 10'000'000 : 128'000);
  expectRefusal(save(large(500'000), path), path, disk.mounted() ? "the disk is full" : "that large here");
  EXPECT_EQ(read(path), bytesOf(emptyYard()));
  EXPECT_EQ(filesIn(folder), 1);
  if (disk.mounted()) {
    disk.makeReadOnly();
    expectRefusal(save(large(1000), path), path, "the disk can only be read");
    EXPECT_EQ(read(path), bytesOf(emptyYard()));
  }
}

/// What `work` says in a child that is an ordinary user.
template <class Work>
bool asOrdinaryUser(Work work) {
  const pid_t child = ::fork();
  if (child == 0) {
    if (::geteuid() == 0 && (::setgid(65534) != 0 || ::setuid(65534) != 0)) ::_exit(2);
    ::_exit(work() ? 0 : 1);
  }
  int status = 0;
  return ::waitpid(child, &status, 0) == child && WIFEXITED(status) && WEXITSTATUS(status) == 0;
}

TEST_F(Saving, WithoutPermissionTheOldFileStays) {
  const fs::path path = folder / "a.yard";
  ASSERT_TRUE(save(emptyYard(), path));
  ASSERT_EQ(::chmod(path.c_str(), 0444), 0);
  ASSERT_EQ(::chmod(folder.c_str(), 0777), 0);
  const auto refused = [&] {
    const auto saved = save(large(1000), path);
    return !saved && saved.error().code == base::ErrorCode::CannotWrite &&
           base::text(saved.error()).find("not allowed") != std::string::npos;
  };
  EXPECT_TRUE(asOrdinaryUser(refused));  // the file is protected
  ASSERT_EQ(::chmod(path.c_str(), 0666), 0);
  ASSERT_EQ(::chmod(folder.c_str(), 0555), 0);
  EXPECT_TRUE(asOrdinaryUser(refused));  // the folder is
  ASSERT_EQ(::chmod(folder.c_str(), 0755), 0);
  EXPECT_EQ(read(path), bytesOf(emptyYard()));
  EXPECT_EQ(filesIn(folder), 1);
}

TEST_F(Saving, AKillWhileSavingLeavesTheOldOrTheNewFile) {
  const fs::path path = folder / "a.yard";
  const std::string small = bytesOf(emptyYard()), big = bytesOf(large(3'000'000));
  ASSERT_TRUE(writeWhole(path, small));
  for (int i = 0; i < 12; ++i) {
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) {
      while (true) {
        (void)writeWhole(path, big);
        (void)writeWhole(path, small);
      }
    }
    ::usleep(5000 + 3000 * static_cast<unsigned>(i));
    ::kill(child, SIGKILL);
    ::waitpid(child, nullptr, 0);
    const std::string left = read(path);
    EXPECT_TRUE(left == small || left == big) << left.size();
  }
}

TEST_F(Saving, DevicesAreWrittenNotReplaced) {
  ASSERT_EQ(::mkfifo((folder / "pipe").c_str(), 0600), 0);
  const pid_t child = ::fork();
  if (child == 0) {
    std::ifstream pipe(folder / "pipe");
    std::ostringstream bytes;
    bytes << pipe.rdbuf();
    write(folder / "copy", bytes.str());
    ::_exit(0);
  }
  EXPECT_TRUE(writeWhole(folder / "pipe", "through the pipe"));
  ::waitpid(child, nullptr, 0);
  EXPECT_TRUE(fs::is_fifo(folder / "pipe"));
  EXPECT_EQ(read(folder / "copy"), "through the pipe");
}

TEST_F(Saving, OpeningWhatIsNoFileSaysSo) {
  const auto missing = open(folder / "none.yard");
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error().code, base::ErrorCode::Unreadable);
  EXPECT_EQ(missing.error().message.key, "file_missing");
  const auto directory = open(folder);
  ASSERT_FALSE(directory);
  EXPECT_EQ(directory.error().message.key, "file_is_folder");
  ASSERT_TRUE(save(emptyYard(), folder / "secret.yard"));
  ASSERT_EQ(::chmod((folder / "secret.yard").c_str(), 0), 0);
  ASSERT_EQ(::chmod(folder.c_str(), 0755), 0);
  EXPECT_TRUE(asOrdinaryUser([&] {
    const auto secret = open(folder / "secret.yard");
    return !secret && secret.error().message.key == "file_unreadable";
  }));
  std::ofstream huge(folder / "huge.yard");
  huge.close();
  fs::resize_file(folder / "huge.yard", 300'000'000);  // a hole: takes no room
  EXPECT_EQ(open(folder / "huge.yard").error().message.key, "file_too_large");
}

}  // namespace
}  // namespace yw::file
