#pragma once
#include <QObject>
#include <QThreadPool>
#include <functional>

namespace yw::ui {

/// Runs work on one other thread, one piece after another, and then its end on this object's thread.
/// Ends whose object is gone are dropped; the destructor waits for the piece that runs.
class Background : public QObject {
 public:
  Background();
  ~Background() override;
  /// `work` touches nothing shared; `done` runs later from the event loop, also when `work` threw.
  void run(std::function<void()> work, std::function<void()> done);
  /// Forgets pieces that have not begun; their ends never come.
  void forget() { pool_.clear(); }
  void wait();

 private:
  QThreadPool pool_;
};

}  // namespace yw::ui
