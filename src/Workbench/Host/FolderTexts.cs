using Consort.Engine.Design;
using Consort.Workbench.Folder;
using Consort.Workbench.Session;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Consort.Workbench.Host;

/// <summary>The folder's texts as they are being edited, to be looked at or kept: <c>/text?file=modules/lead.yaml</c>.</summary>
internal static class FolderTexts
{
    public static void Map(IEndpointRouteBuilder routes) => routes.MapGet("/text", Send);

    private static IResult Send(string? file, VoiceSession session)
    {
        (string? _, string? refusal) = new ClosedFolder(session.Folder).Find(file ?? "");
        if (refusal is not null)
            return Results.Text($"Refused: {refusal}.\n", statusCode: StatusCodes.Status403Forbidden);
        return session.State.Texts.Find(file!) is { } text
            ? Results.Text(text.Text, "text/plain; charset=utf-8")
            : Results.Text($"The design has no {ErrorList.Quote(file!)}.\n", statusCode: StatusCodes.Status404NotFound);
    }
}
