"""The least a Qt program can show: a main window with a label; ends after its first paint."""

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QLabel, QMainWindow


class Label(QLabel):
    def paintEvent(self, event):  # noqa: N802  Qt's name
        super().paintEvent(event)
        print("painted", flush=True)
        QTimer.singleShot(0, QApplication.quit)


def main():
    application = QApplication([])
    window = QMainWindow()
    window.setCentralWidget(Label("mixbench"))
    window.resize(1280, 800)
    window.show()
    application.exec()


if __name__ == "__main__":
    main()
