// Long work beside a window that goes on: told, cancelled, finished.
#include "ui/jobs/progress.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QProgressDialog>
#include <QPushButton>
#include <QTest>
#include <QThread>
#include <QTimer>
#include <QWidget>
#include <algorithm>
#include <stdexcept>

namespace yw::ui {
namespace {

QProgressDialog* signOver(QWidget& window) {
  return window.findChild<QProgressDialog*>(QStringLiteral("progressSign"));
}

TEST(Progress, ShortWorkShowsNoSign) {
  QWidget window;
  window.show();
  bool seen = false;
  QTimer look;
  QObject::connect(&look, &QTimer::timeout, [&] { seen = seen || signOver(window) != nullptr; });
  look.start(5);
  const auto made = std::make_shared<int>(0);
  EXPECT_TRUE(runWithProgress(&window, QStringLiteral("Counting…"), [made](Progress&) { *made = 7; }));
  EXPECT_EQ(*made, 7);
  EXPECT_FALSE(seen);
}

TEST(Progress, LongWorkTellsHowFarItIsAndIsStoppedByCancel) {
  QWidget window;
  window.show();
  const auto stopped = std::make_shared<std::atomic<bool>>(false);
  int told = 0;
  QTimer look;
  QObject::connect(&look, &QTimer::timeout, [&] {
    QProgressDialog* sign = signOver(window);
    if (!sign) return;
    told = std::max(told, sign->value());
    if (told > 3) sign->findChild<QPushButton*>()->click();
  });
  look.start(20);
  const bool whole = runWithProgress(&window, QStringLiteral("Counting…"), [stopped](Progress& progress) {
    progress.of = 1'000'000;
    while (!progress.stop) {
      ++progress.done;
      QThread::msleep(2);
    }
    *stopped = true;
  });
  EXPECT_FALSE(whole);
  EXPECT_GT(told, 3);
  EXPECT_TRUE(QTest::qWaitFor([&] { return stopped->load(); }, 5000));
}

TEST(Progress, WorkThatFailsEndsTheWait) {
  EXPECT_TRUE(runWithProgress(nullptr, QStringLiteral("Failing…"),
                              [](Progress&) { throw std::runtime_error("no"); }));
}

}  // namespace
}  // namespace yw::ui
