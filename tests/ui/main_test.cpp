// One main for all window tests: no display, a home of their own, the same clock-free platform everywhere.
#include <gtest/gtest.h>

#include <QApplication>
#include <QDir>
#include <QStandardPaths>
#include <QTemporaryDir>

int main(int count, char** words) {
  if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
  const QTemporaryDir home;
  qputenv("HOME",
          home.path().toUtf8());  // Qt's test mode keeps its folders there: not shared with another run
  for (const char* name : {"XDG_RUNTIME_DIR", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME"}) {
    const QString folder = home.filePath(QString::fromLatin1(name));
    QDir().mkpath(folder);
    QFile::setPermissions(folder, QFile::ReadOwner | QFile::WriteOwner | QFile::ExeOwner);
    qputenv(name, folder.toUtf8());
  }
  QStandardPaths::setTestModeEnabled(true);
  ::testing::InitGoogleTest(&count, words);
  QApplication application(count, words);
  return RUN_ALL_TESTS();
}
