from django_filters import rest_framework as filters
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from api.endpoint import Endpoint
from api.needs import may_write
from api.note_filters import words_filter
from board.access import access_board, access_job, access_revision, visible_jobs
from board.actions.job_tries import try_job_again
from board.models import Job
from board.models.job import JOB_KINDS, JOB_STATES


class JobSerializer(serializers.ModelSerializer):
    kind = serializers.ChoiceField(JOB_KINDS)
    check = serializers.SerializerMethodField()
    state = serializers.ChoiceField(JOB_STATES)
    page = serializers.IntegerField(source="revision.page_id", allow_null=True, default=None)

    class Meta:
        model = Job
        fields = ["id", "board", "kind", "check", "state", "reason", "tries", "seconds", "page", "revision", "sheet", "reference",
                  "queued_at", "started_at", "finished_at"]

    def get_check(self, job: Job) -> str | None:
        return job.check_id or None


class JobFilters(filters.FilterSet):
    state = words_filter(JOB_STATES)
    kind = words_filter(JOB_KINDS)


class JobEndpoint(Endpoint):
    shape = JobSerializer


class BoardJobs(JobEndpoint):
    """The background work of a board."""

    lists = True
    queryset = Job.objects.none()
    filterset_class = JobFilters
    reach = access_board

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(visible_jobs(self.seat).select_related("revision"))


class RevisionJobs(JobEndpoint):
    lists = True
    queryset = Job.objects.none()
    filterset_class = JobFilters
    reach = access_revision

    def get(self, request: Request, pk: int) -> Response:
        return self.answer_page(Job.objects.filter(revision=self.row).select_related("revision"))


class OneJob(JobEndpoint):
    reach = access_job

    def get(self, request: Request, pk: int) -> Response:
        return self.answer(self.row)


class JobTries(JobEndpoint):
    """A failed job once more."""

    reach = access_job
    needs = {"POST": may_write}

    def post(self, request: Request, pk: int) -> Response:
        return self.answer(try_job_again(seat=self.seat, job=self.row))
