"""Solve the poses of the exercise library anew and say what is wrong or doubtful about them."""

import json
from pathlib import Path

from django.core.management.base import BaseCommand, CommandError

from library.body import filing
from library.body.complaints import examine
from library.body.poses import FOLDER
from library.complaint_wording import coded
from library.own_figure import unsolved


class Command(BaseCommand):
    help = "Solve poses so that every contact touches, write the angles back, and list what is wrong."

    def add_arguments(self, parser):
        parser.add_argument("keys", nargs="*", help="exercise ids; all without any")
        parser.add_argument("--check", action="store_true", help="write nothing")
        parser.add_argument("--folder", type=Path, default=FOLDER, help="where the pose files are")

    def handle(self, *, keys, check, folder, **options):
        seen, stopped = set(), []
        for path in sorted(folder.glob("*.json")):
            held = json.loads(path.read_text(encoding="utf-8"))
            for place, pose in enumerate(held["poses"]):
                if keys and pose["key"] not in keys:
                    continue
                seen.add(pose["key"])
                solved, complaints = examine(unsolved(pose))
                for one in complaints:
                    self.stdout.write(f"{pose['key']}: {coded(one)}")
                if any(one.stops for one in complaints):
                    stopped.append(pose["key"])  # it keeps its angles: without any no page could draw it
                else:
                    held["poses"][place] = solved
            if not check:
                text = filing.file_text(held["apparatus"], held["note"], held["poses"])
                path.write_text(text, encoding="utf-8")
        if set(keys) - seen:
            raise CommandError(f"No pose is filed under {', '.join(sorted(set(keys) - seen))}.")
        if stopped:
            raise CommandError(f"Not solved: {', '.join(stopped)}.")
        self.stdout.write(f"{len(seen)} poses solved.")
