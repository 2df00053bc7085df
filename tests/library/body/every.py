"""One test for a check that holds for every pose: it goes on after a failure and names all that fail."""

import functools

from library.body import all_poses

POSES = all_poses()
EVERY = list(POSES.values())
SIDED = [pose for pose in EVERY if "side" in pose]
PLAIN = [pose for pose in EVERY if "side" not in pose]


def of_every(poses, **more):
    """Decorate ``check(pose)``; ``more`` gives one further argument and its values, as phase=("start", "end")."""

    def decorate(check):
        @functools.wraps(check)
        def test():
            failures = []
            for pose in poses:
                for extra in _extras(more):
                    try:
                        check(pose, **extra)
                    except AssertionError as error:
                        failures.append(f"{pose['key']} {' '.join(extra.values())}: {error}")
            assert not failures, f"{len(failures)} fail\n" + "\n".join(failures)

        del test.__wrapped__  # or pytest would ask for fixtures named as the check's arguments
        return test

    return decorate


def _extras(more: dict) -> list[dict]:
    return [{name: value} for name, values in more.items() for value in values] or [{}]
