#pragma once
#include <QString>
#include <atomic>
#include <functional>
#include <memory>

class QWidget;

namespace yw::ui {

/// What a piece of work on another thread and the window that waits for it tell each other.
struct Progress {
  std::atomic<bool> stop{false};    ///< asked by Cancel; work looks at it where it can leave off
  std::atomic<bool> ended{false};   ///< set last
  std::atomic<int> done{0}, of{0};  ///< steps; of 0: not known
};

/// Keeps the window painting until the work has ended. After half a second a sign with Cancel stands over
/// `parent` (ux-conventions, Speed). False: cancelled, `stop` is set, and the work may still be running.
bool waitFor(QWidget* parent, const QString& words, const std::shared_ptr<Progress>& progress);

/// Runs `work` on another thread and waits for it so. `work` must own all it uses: when it is cancelled it
/// ends on its own, later.
bool runWithProgress(QWidget* parent, const QString& words, std::function<void(Progress&)> work);

}  // namespace yw::ui
